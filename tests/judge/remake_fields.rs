//! Which fields make another order of a remake: as their rows say, and as the check judges.

use rimbook::testing::job::fields::{
    Field, FieldKind, PrismAxis, Remake, all_fields, change, limits, parse,
};
use rimbook::testing::job::{Cause, Gate, Job, Section, StaffRoll, read_jobs};
use rimbook::testing::judge::gate::{Surroundings, findings};
use rimbook::testing::practice::Practice;
use serde_json::json;

/// A pair with everything that an order says.
fn pair() -> Job {
    let powers = json!({"sphere_d": -2, "cylinder_d": -1, "axis_deg": 90, "addition_d": 2});
    read_jobs(
        &json!({"format": "rimbook-job", "version": 1, "past": true, "stage": "collected", "number": "26-0001",
            "wearer": {"name": "Ada"}, "prescription": {"right": powers, "left": powers},
            "lenses": {"powers": {"as": "prescribed", "right": powers, "left": powers}},
            "order": {"ordered_on": "2026-10-01", "laboratory": "Northern Bench"}})
        .to_string(),
    )
    .unwrap()
    .remove(0)
}

/// Two values of a field, far from each other.
fn two(field: &Field) -> [String; 2] {
    let of = |a: &str, b: &str| [a.to_owned(), b.to_owned()];
    match field.kind {
        FieldKind::Text | FieldKind::Notes | FieldKind::Words | FieldKind::Staff => {
            of("Qwertz", "N48")
        }
        FieldKind::Date => of("2020-02-03", "2026-02-03"),
        FieldKind::Moment => of("2026-02-03 15:30", "2020-02-03 15:30"),
        FieldKind::Power | FieldKind::Reading => of("-6", "-3"),
        FieldKind::Addition => of("2.5", "0.75"),
        FieldKind::Prism(PrismAxis::In) => of("7 out", "7 in"),
        FieldKind::Prism(PrismAxis::Up) => of("7 down", "7 up"),
        FieldKind::Flag => of("yes", "no"),
        FieldKind::Choice(words) | FieldKind::Advice(words) => of(words[0], words[1]),
        FieldKind::Category => of("4", "0"),
        FieldKind::Tasks => of("Qwertz 650", "N48 380"),
        FieldKind::Material => of("resin 1.67", "resin 1.50"),
        FieldKind::Axis
        | FieldKind::Curve
        | FieldKind::PrismSize
        | FieldKind::Length
        | FieldKind::Angle
        | FieldKind::Index
        | FieldKind::Percent => {
            let (least, most) = limits(field).unwrap();
            [0.2, 0.8].map(|share| format!("{:.0}", least + (most - least) * share))
        }
    }
}

fn with(mut job: Job, field: &Field, text: &str) -> Job {
    let today = "2026-10-05".parse().unwrap();
    let value = parse(field, text, today).unwrap_or_else(|e| panic!("{}: {e}", field.full()));
    job.record(field.section, &change(field, value)).unwrap();
    job
}

/// Whether a remake that differs in one field only is the same order for a cause.
fn is_same(field: &Field, cause: Cause) -> bool {
    let [old, new] = two(field);
    let first = with(pair(), field, &old);
    let mut remake = with(pair(), field, &new);
    (remake.number, remake.past, remake.stage) = (Some("26-0003".to_owned()), None, None);
    let linked = json!({"reason": "remake", "linked_to": "26-0001"});
    remake.record(Section::Job, &linked).unwrap();
    remake.visit.cause = Some(cause);
    let (staff, practice) = (StaffRoll::default(), Practice::default());
    let around = Surroundings {
        sign_in: false,
        today: "2026-10-05".parse().unwrap(),
        staff: &staff,
        practice: &practice,
        others: &[first],
        questions: &[],
    };
    findings(Gate::Ordered, &remake, around, &[], &[])
        .iter()
        .any(|f| f.check == "remake-same")
}

fn paths(part: Remake) -> Vec<&'static str> {
    let of = |field: &&Field| field.remake() == part;
    all_fields().iter().filter(of).map(Field::full).collect()
}

#[test]
fn the_rows_name_the_parts_of_an_order() {
    let eyes = |pattern: &[&str]| -> Vec<String> {
        let both = |p: &&str| ["right", "left"].map(|eye| p.replace('*', eye));
        pattern.iter().flat_map(both).collect()
    };
    assert_eq!(
        paths(Remake::Powers),
        eyes(&[
            // For a balance lens no power is compared.
            "prescription.*.balance",
            "lenses.powers.*.sphere_d",
            "lenses.powers.*.cylinder_d",
            "lenses.powers.*.axis_deg",
            "lenses.powers.*.addition_d",
            "lenses.powers.*.base_in_delta",
            "lenses.powers.*.base_up_delta",
        ])
    );
    assert_eq!(
        paths(Remake::Centration),
        eyes(&["fitting.*.cd_mm", "fitting.*.near_cd_mm"])
    );
    let mut height = eyes(&["fitting.*.height_mm", "fitting.*.segment_height_mm"]);
    height.push("lenses.lowered_mm".to_owned());
    assert_eq!(paths(Remake::Height), height);
    let mut position = eyes(&["fitting.*.vertex_mm"]);
    position.extend(["fitting.pantoscopic_deg", "fitting.face_form_deg"].map(str::to_owned));
    assert_eq!(paths(Remake::Position), position);
    assert_eq!(
        paths(Remake::Lens),
        [
            "lenses.purpose",
            "lenses.design",
            "lenses.segment.shape",
            "lenses.segment.width_mm",
            "lenses.segment.left_width_mm",
            "lenses.segment.top_to_centre_mm",
            "lenses.corridor_mm",
            "lenses.material",
            "lenses.coatings",
            "lenses.tint.transmittance_percent",
            "lenses.tint.category",
            "lenses.tint.colour",
            "lenses.base_d",
            "lenses.tint.sun",
            "lenses.tint.photochromic",
            "lenses.tint.dark_category",
            "lenses.far_mm",
            "lenses.power_drop_d",
            "lenses.maker",
            "lenses.product",
            "lenses.variant",
            "lenses.form",
            "lenses.prism_control.eye",
            "lenses.prism_control.amount_delta",
            "lenses.prism_control.line_height_mm",
        ]
    );
    assert_eq!(
        paths(Remake::Frame),
        [
            "frame.name",
            "frame.a_mm",
            "frame.b_mm",
            "frame.dbl_mm",
            "frame.side_mm",
            "frame.length_to_bend_mm",
            "frame.pads.mount",
            "frame.pads.size_mm",
            "frame.pads.material",
        ]
    );
    let mut sides = eyes(&["fitting.*.length_to_bend_mm"]);
    sides.push("fitting.head_width_mm".to_owned());
    assert_eq!(paths(Remake::Sides), sides);
}

#[test]
fn a_field_makes_another_order_for_the_causes_that_speak_of_its_part_and_for_no_other() {
    let causes = |part: Remake| match part {
        Remake::Powers => vec![Cause::Prescription, Cause::Position],
        Remake::Centration => vec![Cause::Centration],
        Remake::Height => vec![Cause::Height],
        Remake::Position => vec![Cause::Position],
        Remake::Lens => vec![Cause::LensChoice],
        Remake::Frame => vec![Cause::Position, Cause::FrameFit],
        Remake::Sides => vec![Cause::FrameFit],
        Remake::Not => vec![],
    };
    let of_parts = [
        Cause::Prescription,
        Cause::Centration,
        Cause::Height,
        Cause::Position,
        Cause::LensChoice,
        Cause::FrameFit,
    ];
    // The job's own fields say that it is a remake, and of what.
    for field in all_fields().iter().filter(|f| f.section != Section::Job) {
        let speaking = causes(field.remake());
        for cause in of_parts {
            assert_eq!(
                is_same(field, cause),
                !speaking.contains(&cause),
                "{} for {cause}",
                field.full()
            );
        }
        // A cause that speaks of every part.
        let is_part = field.remake() != Remake::Not;
        assert_eq!(
            is_same(field, Cause::Adaptation),
            !is_part,
            "{}",
            field.full()
        );
    }
}

#[test]
fn a_name_in_capitals_is_the_same_name() {
    let (lens, frame) = ("lenses.tint.colour", "frame.name");
    for (path, cause) in [(lens, Cause::LensChoice), (frame, Cause::FrameFit)] {
        let field = all_fields().iter().find(|f| f.full() == path).unwrap();
        let held = |new: &str| {
            let mut remake = with(pair(), field, new);
            remake.number = Some("26-0003".to_owned());
            (remake.past, remake.stage) = (None, None);
            let linked = json!({"reason": "remake", "linked_to": "26-0001"});
            remake.record(Section::Job, &linked).unwrap();
            remake.visit.cause = Some(cause);
            let (staff, practice) = (StaffRoll::default(), Practice::default());
            let around = Surroundings {
                sign_in: false,
                today: "2026-10-05".parse().unwrap(),
                staff: &staff,
                practice: &practice,
                others: &[with(pair(), field, "Brown 2")],
                questions: &[],
            };
            findings(Gate::Ordered, &remake, around, &[], &[])
                .iter()
                .any(|f| f.check == "remake-same")
        };
        assert!(held("brown 2") && !held("Brown 3"), "{path}");
    }
}
