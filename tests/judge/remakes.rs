//! What a remake must change: by cause, on, within and beyond the limits, the job alone.

use rimbook::testing::job::{Cause, Gate, Job, Section, StaffRoll, read_jobs};
use rimbook::testing::judge::gate::{Finding, Surroundings, findings};
use rimbook::testing::practice::Practice;
use serde_json::{Value, json};

fn pair() -> Job {
    let powers = json!({"sphere_d": -2, "cylinder_d": -1, "axis_deg": 180, "addition_d": 2});
    read_jobs(
        &json!({"format": "rimbook-job", "version": 1, "past": true, "stage": "collected", "number": "26-0001",
            "wearer": {"name": "Ada"}, "prescription": {"right": powers, "left": powers},
            "fitting": {"pantoscopic_deg": 8, "head_width_mm": 140,
                "right": {"cd_mm": 32, "height_mm": 20, "vertex_mm": 12, "length_to_bend_mm": 96},
                "left": {"cd_mm": 32, "height_mm": 20, "vertex_mm": 12, "length_to_bend_mm": 96}},
            "frame": {"name": "Oval 2", "condition": "new"},
            "lenses": {"design": "progressive", "material": "resin 1.60", "base_d": 4, "corridor_mm": 14,
                "powers": {"as": "prescribed", "right": powers, "left": powers}},
            "order": {"ordered_on": "2026-10-01", "laboratory": "Northern Bench"}})
        .to_string(),
    )
    .unwrap()
    .remove(0)
}

fn recheck(cause: Option<Cause>) -> Job {
    let mut job = pair();
    job.record(
        Section::Job,
        &json!({"reason": "recheck", "linked_to": "26-0001"}),
    )
    .unwrap();
    job.number = Some("26-0002".to_owned());
    job.visit.cause = cause;
    job
}

fn remake(changes: &[(&str, Value)]) -> Job {
    let mut job = pair();
    (job.number, job.past, job.stage) = (Some("26-0003".to_owned()), None, None);
    job.record(
        Section::Job,
        &json!({"reason": "remake", "linked_to": "26-0002"}),
    )
    .unwrap();
    for (section, change) in changes {
        job.record(Section::from_word(section).unwrap(), change)
            .unwrap();
    }
    job
}

fn at_gate(job: &Job, others: &[Job]) -> Vec<Finding> {
    let (staff, practice) = (StaffRoll::default(), Practice::default());
    let around = Surroundings {
        sign_in: false,
        today: "2026-10-05".parse().unwrap(),
        staff: &staff,
        practice: &practice,
        others,
        questions: &[],
    };
    findings(Gate::Ordered, job, around, &[], &[])
}

fn held(cause: Option<Cause>, changes: &[(&str, Value)]) -> bool {
    let list = at_gate(&remake(changes), &[recheck(cause), pair()]);
    list.iter().any(|f| f.check == "remake-same")
}

#[test]
fn powers_must_differ_where_the_prescription_was_the_cause() {
    let cause = Some(Cause::Prescription);
    let lens =
        |key: &str, n: f64| held(cause, &[("lenses", json!({"powers": {"right": {key: n}}}))]);
    assert!(held(cause, &[]));
    assert!(lens("sphere_d", -2.11), "within");
    assert!(!lens("sphere_d", -2.12), "on");
    assert!(!lens("sphere_d", -2.25), "beyond");
    assert!(!lens("axis_deg", 170.0), "a turned cylinder");
    assert!(!lens("addition_d", 2.25) && !lens("base_up_delta", 0.5));
    assert!(
        held(cause, &[("fitting", json!({"right": {"cd_mm": 30}}))]),
        "another place is no other power"
    );
}

/// The order sheet and the verification take the addition from the order, not from the prescription.
#[test]
fn an_addition_that_was_left_out_of_the_order_and_is_ordered_now_is_another_order() {
    let mut pair = pair();
    let without = json!({"powers": {"right": {"addition_d": null}, "left": {"addition_d": null}}});
    pair.record(Section::Lenses, &without).unwrap();
    let held = |list: &[Finding]| list.iter().any(|f| f.check == "remake-same");
    let others = [recheck(Some(Cause::Prescription)), pair];
    assert!(!held(&at_gate(&remake(&[]), &others)));
    assert!(held(&at_gate(&remake(&[("lenses", without)]), &others)));
}

#[test]
fn each_cause_speaks_of_its_own_part() {
    let rows: [(Cause, &str, Value, Value); 6] = [
        (
            Cause::Centration,
            "fitting",
            json!({"left": {"cd_mm": 32.4}}),
            json!({"left": {"cd_mm": 32.5}}),
        ),
        (
            Cause::Height,
            "fitting",
            json!({"right": {"height_mm": 19.6}}),
            json!({"right": {"height_mm": 19.5}}),
        ),
        (
            Cause::Position,
            "fitting",
            json!({"pantoscopic_deg": 9.9}),
            json!({"pantoscopic_deg": 10}),
        ),
        (
            Cause::Position,
            "fitting",
            json!({"right": {"vertex_mm": 12.4}}),
            json!({"right": {"vertex_mm": 12.5}}),
        ),
        (
            Cause::LensChoice,
            "fitting",
            json!({"right": {"cd_mm": 20}}),
            json!({}),
        ),
        (
            Cause::FrameFit,
            "frame",
            json!({"condition": "worn"}),
            json!({"name": "Panto 7"}),
        ),
    ];
    for (cause, section, too_little, enough) in rows {
        assert!(
            held(Some(cause), &[(section, too_little.clone())]),
            "{cause} {too_little}"
        );
        if enough != json!({}) {
            assert!(
                !held(Some(cause), &[(section, enough.clone())]),
                "{cause} {enough}"
            );
        }
    }
    for change in [
        json!({"design": "bifocal"}),
        json!({"material": "resin 1.50"}),
        json!({"base_d": 6}),
        json!({"corridor_mm": 12}),
    ] {
        assert!(!held(Some(Cause::LensChoice), &[("lenses", change)]));
    }
}

#[test]
fn a_lens_made_wrong_is_ordered_again_as_it_was() {
    assert!(!held(Some(Cause::Laboratory), &[]));
}

#[test]
fn any_other_cause_wants_anything_to_differ() {
    for cause in [None, Some(Cause::OrderEntry), Some(Cause::NothingFound)] {
        assert!(held(cause, &[]));
        assert!(!held(
            cause,
            &[("fitting", json!({"right": {"cd_mm": 33}}))]
        ));
        assert!(!held(cause, &[("frame", json!({"name": "Panto 7"}))]));
    }
}

#[test]
fn a_written_reason_settles_it_on_either_job() {
    let reason = json!({"same_because": "the first pair broke"});
    assert!(!held(None, &[("visit", reason.clone())]));
    let mut visit = recheck(Some(Cause::Height));
    visit.record(Section::Visit, &reason).unwrap();
    let list = at_gate(&remake(&[]), &[visit, pair()]);
    assert!(list.iter().all(|f| f.check != "remake-same"));
    assert!(held(None, &[("visit", json!({"same_because": "  "}))]));
}

#[test]
fn a_pair_that_is_not_there_is_said_to_be_missing() {
    let list = at_gate(&remake(&[]), &[]);
    let finding = list.iter().find(|f| f.check == "remake-same").unwrap();
    assert!(finding.message.contains("26-0002"), "{}", finding.message);
}

#[test]
fn the_pair_that_is_made_again_is_no_duplicate_and_another_is() {
    let doubled = |others: &[Job]| {
        at_gate(&remake(&[]), others)
            .iter()
            .any(|f| f.check == "order-duplicate")
    };
    assert!(!doubled(&[recheck(None), pair()]));
    let mut other = pair();
    other.number = Some("26-0009".to_owned());
    assert!(doubled(&[recheck(None), pair(), other]));
}

#[test]
fn only_a_remake_that_was_decided_on_is_asked_about_the_free_moves() {
    let untried = |outcome: &str, tried: Value| {
        let mut job = recheck(Some(Cause::Height));
        (job.past, job.stage) = (None, None);
        job.record(
            Section::Visit,
            &json!({"outcome": outcome, "tried": tried, "review_on": "2026-11-01"}),
        )
        .unwrap();
        at_gate(&job, &[pair()])
            .iter()
            .any(|f| f.check == "remake-untried")
    };
    let all = json!(["move-turn", "move-tilt", "move-height", "move-distance"]);
    assert!(untried("remade", json!([])) && !untried("remade", all));
    assert!(untried(
        "remade",
        json!(["move-turn", "move-tilt", "move-height"])
    ));
    assert!(!untried("adjusted", json!([])) && !untried("waiting", json!([])));
}
