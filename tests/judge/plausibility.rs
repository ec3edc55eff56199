//! Checks of what is plausible, on, within and beyond each limit, and silent where they do not apply.
//!
//! The pair is scenario S01 of `tests/data/scenarios.json`; its day is 2026-10-12, its wearer 32.

use rimbook::testing::job::{Gate, Job, Section, StaffRoll, Stage, read_jobs};
use rimbook::testing::judge::gate::{About, Finding, Severity, Surroundings, findings};
use rimbook::testing::practice::Practice;
use serde_json::{Value, json};

use crate::gate_rows::{progressive, with};

fn scenario() -> Value {
    let all: Value = serde_json::from_str(include_str!("../data/scenarios.json")).unwrap();
    all["scenarios"][0].clone()
}

fn job_with(changes: &[(&str, Value)]) -> Job {
    let mut job = read_jobs(&scenario()["job"].to_string()).unwrap().remove(0);
    for (section, change) in changes {
        job.record(Section::from_word(section).unwrap(), change)
            .expect(section);
    }
    job
}

fn among(job: &Job, others: &[Job], check: &str) -> Vec<Finding> {
    let scenario = scenario();
    let staff = StaffRoll(serde_json::from_value(scenario["staff"].clone()).unwrap());
    let practice = Practice::default();
    let around = Surroundings {
        sign_in: false,
        today: scenario["today"].as_str().unwrap().parse().unwrap(),
        staff: &staff,
        practice: &practice,
        others,
        questions: &[],
    };
    let list = findings(Gate::Ordered, job, around, &[], &[]);
    list.into_iter().filter(|f| f.check == check).collect()
}

/// What one check says of the pair with changes.
fn said(check: &str, changes: &[(&str, Value)]) -> Vec<Finding> {
    among(&job_with(changes), &[], check)
}

fn fields(check: &str, changes: &[(&str, Value)]) -> Vec<String> {
    said(check, changes).into_iter().map(|f| f.field).collect()
}

/// Where one check holds: the words of the eyes, `-` for the job.
fn eyes(check: &str, changes: &[(&str, Value)]) -> Vec<&'static str> {
    let list = said(check, changes);
    list.iter().map(|f| f.eye.word().unwrap_or("-")).collect()
}

#[test]
fn a_copy_needs_a_registered_name_and_a_reason_and_no_test() {
    let copied = |by: Value, because: Value| {
        let change = json!({"kind": "copied from worn pair", "copied_by": by, "copied_because": because,
            "tested_on": null, "prescriber": null, "prescriber_registration": null});
        fields("rx-missing", &[("prescription", change)])
    };
    let why = json!("the wearer leaves tomorrow");
    assert_eq!(copied(json!("Ines Calloway"), why.clone()), [] as [&str; 0]);
    for by in [
        json!(null),
        json!(" "),
        json!("Nadia Brookwell"),
        json!("Nobody Here"),
    ] {
        assert_eq!(
            copied(by.clone(), why.clone()),
            ["prescription.copied_by"],
            "{by}"
        );
    }
    for because in [json!(null), json!("  ")] {
        let by = json!("Hugo Penrith");
        assert_eq!(copied(by, because), ["prescription.copied_because"]);
    }
    let untested = json!({"tested_on": null, "prescriber": " "});
    assert_eq!(
        fields("rx-missing", &[("prescription", untested)]),
        ["prescription.tested_on", "prescription.prescriber"]
    );
}

#[test]
fn an_addition_is_above_none_and_at_most_ten_and_the_intermediate_one_not_above_it() {
    let right = |near: Value, intermediate: Value| {
        let eye = json!({"addition_d": near, "intermediate_addition_d": intermediate});
        fields("rx-form", &[("prescription", json!({ "right": eye }))])
    };
    let none: [&str; 0] = [];
    let (near, intermediate) = (
        "prescription.right.addition_d",
        "prescription.right.intermediate_addition_d",
    );
    for addition in [0.125, 2.0, 10.0] {
        assert_eq!(right(json!(addition), json!(null)), none, "{addition}");
    }
    for addition in [0.0, -2.0, 10.125] {
        assert_eq!(right(json!(addition), json!(null)), [near], "{addition}");
    }
    assert_eq!(right(json!(2.0), json!(2.0)), none);
    assert_eq!(right(json!(2.0), json!(2.125)), [intermediate]);
    assert_eq!(right(json!(2.0), json!(0.0)), [intermediate]);
    assert_eq!(right(json!(null), json!(1.0)), none);
    assert_eq!(right(json!(2.0), json!(1.1)), [intermediate]);
}

#[test]
fn prism_of_the_pair_is_compared_with_that_of_the_previous_pair() {
    let holds = |now: [f64; 4], before: Value| {
        let prism = |h: f64, v: f64| json!({"base_in_delta": h, "base_up_delta": v});
        let change = json!({"right": prism(now[0], now[1]), "left": prism(now[2], now[3]), "previous": before});
        eyes("rx-change", &[("prescription", change)]).contains(&"pair")
    };
    let none = json!({});
    // Vertically right and left base up are subtracted, horizontally base in added.
    assert!(!holds([0.0, 0.5, 0.0, -0.375], none.clone()));
    assert!(holds([0.0, 0.5, 0.0, -0.5], none.clone()));
    assert!(!holds([0.0, 1.0, 0.0, 1.0], none.clone()));
    assert!(!holds([1.0, 0.0, 0.75, 0.0], none.clone()));
    assert!(holds([1.0, 0.0, 1.0, 0.0], none.clone()));
    assert!(holds([-1.0, 0.0, -1.0, 0.0], none));
    let same = json!({"right": {"base_in_delta": 1.0}, "left": {"base_in_delta": 1.0}});
    assert!(!holds([1.0, 0.0, 1.0, 0.0], same.clone()));
    assert!(holds([-1.0, 0.0, -1.0, 0.0], same), "base the other way");
    // Nothing is compared with a previous pair of which no power is recorded.
    let unknown = json!({"right": {"sphere_d": null}, "left": {"sphere_d": null, "cylinder_d": null, "axis_deg": null}});
    assert!(!holds([3.0, 3.0, 3.0, -3.0], unknown));
    let list = said(
        "rx-change",
        &[("prescription", json!({"right": {"base_up_delta": -1.5}}))],
    );
    assert!(
        list[0].message.contains("1.50 base down right")
            && list[0].message.contains("none recorded"),
        "{}",
        list[0].message
    );
}

/// 47 years: 18.5 - 0.3 x 47 = 4.4 D; at 400 mm 0.50 to 3.00 D, at 330 mm (3.03 D) to 3.53 D.
#[test]
fn an_addition_is_questioned_below_and_above_what_age_and_task_can_need() {
    let at = |addition: f64, changes: &[(&'static str, Value)]| {
        let mut all = progressive();
        let eye = json!({ "addition_d": addition });
        all.push(("prescription", json!({"right": eye, "left": eye})));
        all.push(("wearer", json!({"born": "1979-05-20"})));
        all.extend(changes.iter().cloned());
        eyes("addition-unlikely", &all)
    };
    let both = ["right", "left"];
    let none: [&str; 0] = [];
    assert_eq!(at(0.375, &[]), both);
    assert_eq!(at(0.5, &[]), none);
    assert_eq!(at(3.0, &[]), none);
    assert_eq!(at(3.125, &[]), both);
    let near_task = ("wearer", json!({"tasks": [{"distance_mm": 330}]}));
    assert_eq!(at(3.5, &[near_task]), none);
    // The distance of the prescription comes before the tasks.
    let both_recorded = [
        ("wearer", json!({"tasks": [{"distance_mm": 330}]})),
        ("prescription", json!({"working_mm": 400})),
    ];
    assert_eq!(at(3.5, &both_recorded), both);
    // 76 years: 2.50 - 0.50 - 0.75 = 1.25 D at least.
    let old = ("wearer", json!({"born": "1950-01-30"}));
    assert_eq!(at(1.125, std::slice::from_ref(&old)), both);
    assert_eq!(at(1.25, &[old]), none);
    for (right, is_silent) in [("6/18", false), ("6/19", true), ("0.32", true)] {
        let acuity = (
            "prescription",
            json!({"right": {"acuity": right}, "left": {"acuity": "6/36"}}),
        );
        assert_eq!(at(4.0, &[acuity]).is_empty(), is_silent, "{right}");
    }
    for silent in [
        ("wearer", json!({"born": null})),
        ("lenses", json!({"design": "office"})),
        ("lenses", json!({"purpose": "intermediate"})),
        ("lenses", json!({"design": "single vision"})),
    ] {
        assert_eq!(at(4.0, std::slice::from_ref(&silent)), none, "{silent:?}");
    }
    let near_pair = (
        "lenses",
        json!({"design": "single vision", "purpose": "near"}),
    );
    assert_eq!(at(4.0, &[near_pair]), both);
}

#[test]
fn what_compares_the_eyes_is_silent_for_one_useful_eye() {
    let unequal = vec![
        (
            "prescription",
            json!({"right": {"addition_d": 2.0, "base_in_delta": 3.0, "base_up_delta": 1.0}, "left": {"addition_d": 2.5, "base_up_delta": 1.0}}),
        ),
        (
            "lenses",
            json!({"purpose": "intermediate", "powers": {"right": {"sphere_d": 1.0}}}),
        ),
    ];
    let equal = with(
        unequal.clone(),
        "prescription",
        json!({"left": {"addition_d": 2.0}}),
    );
    let rows = [
        ("addition-unequal", &unequal),
        ("prism-unsplit", &unequal),
        ("prism-opposed", &unequal),
        ("intermediate-unequal", &equal),
    ];
    for (check, changes) in rows {
        assert_eq!(eyes(check, changes), ["pair"], "{check}");
        for one in [
            ("wearer", json!({"one_eyed": true})),
            ("prescription", json!({"left": {"balance": true}})),
        ] {
            let changes = with(changes.clone(), one.0, one.1);
            assert_eq!(eyes(check, &changes), [] as [&str; 0], "{check}");
        }
    }
}

/// The pair adds 1.00 D in the right lens; what the left adds is compared with it.
#[test]
fn an_intermediate_pair_has_equally_much_added_for_both_eyes() {
    let holds = |left: f64, changes: &[(&'static str, Value)]| {
        let mut all = vec![
            (
                "prescription",
                json!({"right": {"addition_d": 2.0}, "left": {"addition_d": 2.0}}),
            ),
            (
                "lenses",
                json!({"purpose": "intermediate", "powers": {"right": {"sphere_d": 0.5}, "left": {"sphere_d": -0.75 + left}}}),
            ),
        ];
        all.extend(changes.iter().cloned());
        !said("intermediate-unequal", &all).is_empty()
    };
    for (left, is_held) in [
        (1.0, false),
        (1.125, false),
        (1.25, true),
        (0.875, false),
        (0.75, true),
    ] {
        assert_eq!(holds(left, &[]), is_held, "{left}");
    }
    for silent in [
        ("prescription", json!({"left": {"addition_d": 2.5}})),
        ("lenses", json!({"purpose": "near"})),
        ("lenses", json!({"powers": {"as": "vertex compensated"}})),
        ("lenses", json!({"powers": {"left": {"sphere_d": null}}})),
    ] {
        assert!(!holds(1.5, std::slice::from_ref(&silent)), "{silent:?}");
    }
}

/// Right 31.5 mm, left 31.0 mm.
#[test]
fn a_centration_distance_far_from_the_previous_one_is_questioned_once() {
    let at = |right: f64, changes: &[(&'static str, Value)]| {
        let mut all = vec![(
            "prescription",
            json!({"previous": {"right_cd_mm": right, "left_cd_mm": 31.0}}),
        )];
        all.extend(changes.iter().cloned());
        eyes("cd-change", &all)
    };
    let none: [&str; 0] = [];
    assert_eq!(at(33.5, &[]), none);
    assert_eq!(at(33.75, &[]), ["right"]);
    assert_eq!(at(29.25, &[]), ["right"]);
    let again = |mm: f64| {
        (
            "fitting",
            json!({"second_reading": {"right": {"cd_mm": mm}}}),
        )
    };
    assert_eq!(at(35.0, &[again(32.5)]), none);
    assert_eq!(at(35.0, &[again(32.75)]), ["right"]);
    assert_eq!(
        at(35.0, &[("fitting", json!({"right": {"cd_mm": null}}))]),
        none
    );
    // A remake whose cause is the centration is to have another one; any other is not.
    let remake = |cause: &str| {
        [
            ("job", json!({"reason": "remake"})),
            ("visit", json!({ "cause": cause })),
        ]
    };
    assert_eq!(at(35.0, &remake("centration")), none);
    assert_eq!(at(35.0, &remake("height")), ["right"]);
}

/// A lens of 38 mm boxed height, pupils at 19 mm.
#[test]
fn a_height_cannot_reach_the_top_of_the_lens_nor_a_segment_the_pupil() {
    let right = |change: Value| {
        fields(
            "height-impossible",
            &[("fitting", json!({ "right": change }))],
        )
    };
    let none: [&str; 0] = [];
    assert_eq!(right(json!({"height_mm": 37.5})), none);
    assert_eq!(right(json!({"height_mm": 38})), ["fitting.right.height_mm"]);
    let segment = ["fitting.right.segment_height_mm"];
    assert_eq!(right(json!({"segment_height_mm": 19})), none);
    assert_eq!(right(json!({"segment_height_mm": 19.5})), segment);
    // Too high for both is one mistake.
    assert_eq!(right(json!({"segment_height_mm": 45})), segment);
    let no_pupil = json!({"segment_height_mm": 30, "height_mm": null});
    assert_eq!(right(no_pupil), none);
    let no_box = [
        ("frame", json!({"b_mm": null})),
        ("fitting", json!({"right": {"height_mm": 45}})),
    ];
    assert_eq!(fields("height-impossible", &no_box), none);
}

#[test]
fn a_progressive_fitted_low_needs_the_least_height_of_its_design() {
    let at = |right: f64, changes: &[(&'static str, Value)]| {
        let mut all = with(
            progressive(),
            "fitting",
            json!({"right": {"height_mm": right}}),
        );
        all.extend(changes.iter().cloned());
        eyes("height-low", &all)
    };
    let none: [&str; 0] = [];
    assert_eq!(at(15.5, &[]), ["right"]);
    assert_eq!(at(16.0, &[]), none);
    assert_eq!(
        at(15.5, &[("lenses", json!({"minimum_height_mm": 14}))]),
        none
    );
    assert_eq!(
        at(15.5, &[("lenses", json!({"design": "single vision"}))]),
        none
    );
}

#[test]
fn heights_apart_are_believed_when_both_were_read_twice() {
    let at = |second: Value| {
        let change = json!({"right": {"height_mm": 21.5}, "second_reading": second});
        eyes("height-asymmetry", &[("fitting", change)])
    };
    let both =
        |right: f64, left: f64| json!({"right": {"height_mm": right}, "left": {"height_mm": left}});
    assert_eq!(at(json!(null)), ["pair"]);
    assert_eq!(at(both(22.5, 18.0)), [] as [&str; 0]);
    assert_eq!(at(both(23.0, 19.0)), ["pair"]);
    assert_eq!(at(json!({"right": {"height_mm": 21.5}})), ["pair"]);
    // Two ruler readings differ by up to 1.3 mm.
    let repeat = |mm: f64| {
        let again = json!({"second_reading": {"right": {"height_mm": mm}}});
        eyes("height-repeat", &[("fitting", again)])
    };
    assert_eq!(repeat(20.5), [] as [&str; 0]);
    assert_eq!(repeat(20.75), ["right"]);
}

/// 25.5 mm from the lens at 12 mm to the centre of rotation: 1.0 mm for 3.92 prism dioptres.
#[test]
fn prism_that_moves_the_lines_of_sight_is_measured_with() {
    let at = |right: [f64; 2], left: [f64; 2], changes: &[(&'static str, Value)]| {
        let prism = |p: [f64; 2]| json!({"base_in_delta": p[0], "base_up_delta": p[1]});
        let mut all = with(
            progressive(),
            "prescription",
            json!({"right": prism(right), "left": prism(left)}),
        );
        all.extend(changes.iter().cloned());
        said("prism-moves-sight", &all)
    };
    let holds = |right, left| !at(right, left, &[]).is_empty();
    assert!(!holds([0.0, 1.75], [0.0, -2.125]));
    assert!(holds([0.0, 1.75], [0.0, -2.25]));
    // Both the same way leave the eyes together.
    assert!(!holds([0.0, 5.0], [0.0, 5.0]));
    assert!(!holds([3.875, 0.0], [-3.875, 0.0]));
    assert!(holds([0.0, 0.0], [-4.0, 0.0]));
    let strong = ([4.0, 0.0], [0.0, -5.0]);
    let list = at(strong.0, strong.1, &[]);
    assert!(
        list[0].message.contains("right 1.0 mm out, left 1.3 mm up"),
        "{}",
        list[0].message
    );
    assert_eq!(list[0].eye, About::Pair);
    let single = ("lenses", json!({"design": "single vision"}));
    for (changes, is_held) in [
        (vec![("fitting", json!({"prism_in_place": true}))], false),
        (vec![("fitting", json!({"prism_in_place": false}))], true),
        (vec![single.clone()], false),
        (
            vec![single.clone(), ("lenses", json!({"form": "spherical"}))],
            false,
        ),
        (
            vec![single.clone(), ("lenses", json!({"form": "aspheric"}))],
            true,
        ),
        (
            vec![single, ("lenses", json!({"form": "made for its position"}))],
            true,
        ),
    ] {
        assert_eq!(
            !at(strong.0, strong.1, &changes).is_empty(),
            is_held,
            "{changes:?}"
        );
    }
    // Farther from the eye the same prism moves more.
    let near_eye = [(
        "fitting",
        json!({"right": {"vertex_mm": 8}, "left": {"vertex_mm": 8}}),
    )];
    assert!(at([0.0, 2.25], [0.0, -2.25], &near_eye).is_empty());
}

#[test]
fn a_pair_for_near_has_the_prism_prescribed_for_near() {
    let near = [
        (
            "prescription",
            json!({"right": {"addition_d": 2.0, "near_base_in_delta": 4.0}, "left": {"addition_d": 2.0}}),
        ),
        ("lenses", json!({"purpose": "near"})),
    ];
    assert_eq!(eyes("prism-unsplit", &near), ["pair"]);
    let far = with(near.to_vec(), "lenses", json!({"purpose": "distance"}));
    assert_eq!(eyes("prism-unsplit", &far), [] as [&str; 0]);
}

#[test]
fn a_frame_to_be_ordered_has_a_name_and_a_rim_and_an_own_one_was_looked_at() {
    let frame = |check: &str, change: Value| fields(check, &[("frame", change)]);
    let none: [&str; 0] = [];
    let (unnamed, unseen) = ("frame-unnamed", "frame-unseen");
    assert_eq!(frame(unnamed, json!({"name": " "})), ["frame.name"]);
    assert_eq!(frame(unnamed, json!({"rim": null})), ["frame.rim"]);
    let asked = json!({"owned_by_wearer": null, "name": null, "rim": null});
    assert_eq!(frame(unnamed, asked), ["frame.name"]);
    let own = json!({"owned_by_wearer": true, "name": null, "rim": null, "condition": null});
    assert_eq!(frame(unnamed, own.clone()), none);
    assert_eq!(frame(unseen, own), ["frame.condition"]);
    assert_eq!(frame(unseen, json!({"owned_by_wearer": true})), none);
    assert_eq!(frame(unseen, json!({"condition": null})), none);
}

#[test]
fn a_lens_is_curved_like_a_curved_frame() {
    let holds = |frame: f64, lens: Value| {
        let changes = [
            ("frame", json!({ "base_d": frame })),
            ("lenses", json!({ "base_d": lens })),
        ];
        !said("curve-mismatch", &changes).is_empty()
    };
    assert!(!holds(6.0, json!(3.5)));
    assert!(holds(6.0, json!(3.25)));
    assert!(!holds(6.0, json!(10.0)));
    assert!(holds(6.0, json!(10.25)));
    // Flatter frames give way.
    assert!(!holds(5.75, json!(0.5)));
    assert!(!holds(8.0, json!(null)));
}

#[test]
fn a_narrow_frame_is_one_that_its_sides_cannot_make_up_for() {
    let holds = |check: &str, head: f64, side: &str| {
        let changes = [
            ("fitting", json!({ "head_width_mm": head })),
            ("frame", json!({"front_width_mm": 140, "side_shape": side})),
        ];
        !said(check, &changes).is_empty()
    };
    let narrow = "frame-narrow";
    assert!(!holds(narrow, 148.0, "straight") && holds(narrow, 148.5, "straight"));
    assert!(!holds(narrow, 154.0, "curved") && holds(narrow, 154.5, "curved"));
    assert!(!holds("frame-wide", 134.0, "curved") && holds("frame-wide", 133.5, "curved"));
}

#[test]
fn a_lens_without_maker_and_product_is_noted_and_holds_nothing() {
    let named = json!({"maker": "Saltmarsh", "product": "Glide"});
    let noted = |changes: &[(&'static str, Value)]| {
        let mut all = vec![("lenses", named.clone())];
        all.extend(changes.iter().cloned());
        let list = said("lens-unnamed", &all);
        assert!(
            list.iter()
                .all(|f| f.severity == Severity::Note && !f.is_open())
        );
        list.into_iter().map(|f| f.field).collect::<Vec<_>>()
    };
    let none: [&str; 0] = [];
    assert_eq!(noted(&[]), none);
    assert_eq!(
        noted(&[("lenses", json!({"maker": " "}))]),
        ["lenses.maker"]
    );
    assert_eq!(
        noted(&[("lenses", json!({"product": null}))]),
        ["lenses.product"]
    );
    let office = ("lenses", json!({"design": "office"}));
    assert_eq!(
        noted(std::slice::from_ref(&office)),
        ["lenses.power_drop_d"]
    );
    for known in [json!({"power_drop_d": 1.0}), json!({"far_mm": 2000})] {
        assert_eq!(noted(&[office.clone(), ("lenses", known)]), none);
    }
}

/// Today is 2026-10-12.
#[test]
fn a_pair_is_due_by_the_day_promised_and_the_appointment() {
    let holds = |due: &str, promised: Value, appointed: Value| {
        let changes = [
            ("order", json!({ "due_on": due })),
            (
                "job",
                json!({"promised_on": promised, "collection_at": appointed}),
            ),
        ];
        let list = said("due-late", &changes);
        assert!(list.len() < 2, "one finding: {list:?}");
        !list.is_empty()
    };
    let none = json!(null);
    assert!(!holds("2026-10-12", none.clone(), none.clone()));
    assert!(holds("2026-10-11", none.clone(), none.clone()));
    assert!(!holds("2026-10-21", json!("2026-10-21"), none.clone()));
    assert!(holds("2026-10-22", json!("2026-10-21"), none.clone()));
    let at = json!("2026-10-21T09:30");
    assert!(!holds("2026-10-21", none.clone(), at.clone()));
    assert!(holds("2026-10-22", none, at.clone()));
    assert!(holds("2026-10-22", json!("2026-10-23"), at));
}

#[test]
fn the_same_order_is_one_of_the_same_colour_purpose_and_tint() {
    let mut first = job_with(&[]);
    first.stage = Some(Stage::Ordered);
    first.number = Some("26-0007".to_owned());
    let holds = |changes: &[(&str, Value)]| {
        let again = job_with(changes);
        !among(&again, std::slice::from_ref(&first), "order-duplicate").is_empty()
    };
    assert!(holds(&[]));
    assert!(holds(&[("frame", json!({"colour": "SLATE "}))]));
    for other in [
        ("frame", json!({"colour": "moss"})),
        ("lenses", json!({"purpose": "sport"})),
        ("lenses", json!({"tint": {"sun": true}})),
        ("job", json!({"reason": "second pair"})),
        ("job", json!({"linked_to": "26-0007"})),
    ] {
        assert!(!holds(std::slice::from_ref(&other)), "{other:?}");
    }
}
