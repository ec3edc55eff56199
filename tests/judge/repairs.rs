//! A repair is held by the checks of the values it sets, and by who did it for a restricted wearer.

use crate::sound_pair::{ASSISTANT, Change, OPTICIAN, OPTOMETRIST, TRAINEE, pair, staff, today};
use rimbook::testing::job::{Repair, Section};
use rimbook::testing::judge::gate::{Finding, Surroundings, of_repair};
use rimbook::testing::practice::Practice;
use serde_json::{Value, json};

/// What holds a repair of the pair after some changes.
fn held(changes: &[Change], repair: &Value) -> Vec<Finding> {
    let (staff, practice) = (staff(), Practice::default());
    let around = Surroundings {
        sign_in: false,
        today: today(),
        staff: &staff,
        practice: &practice,
        others: &[],
        questions: &[],
    };
    let repair: Repair = serde_json::from_value(repair.clone()).unwrap();
    of_repair(&pair(changes), &repair, around, &[])
}

fn checks(changes: &[Change], repair: &Value) -> Vec<(String, Option<&'static str>)> {
    held(changes, repair)
        .iter()
        .map(|f| (f.check.word().to_owned(), f.eye.word()))
        .collect()
}

fn strong() -> Change {
    let eye = json!({"sphere_d": -10.0, "cylinder_d": null, "axis_deg": null});
    (
        Section::Lenses,
        json!({"powers": {"as": "prescribed", "right": eye, "left": eye}}),
    )
}

/// Finds whether a check of an eye is among those that hold.
fn is_held(found: &[(String, Option<&'static str>)], id: &str, eye: Option<&str>) -> bool {
    found.iter().any(|(check, of)| check == id && *of == eye)
}

#[test]
fn a_vertex_distance_that_changes_the_power_holds_the_eye_that_was_set() {
    // At -10.00 D a millimetre is 0.08 D to 0.10 D: one is within the limit of 0.12 D, two are not.
    for (mm, holds) in [(12.0, false), (13.0, false), (14.0, true), (10.0, true)] {
        let repair = json!({"by": OPTICIAN, "right": {"vertex_mm": mm}});
        let found = checks(&[strong()], &repair);
        assert_eq!(
            is_held(&found, "fit-vertex", Some("right")),
            holds,
            "{mm}: {found:?}"
        );
        assert!(!is_held(&found, "fit-vertex", Some("left")), "{mm}");
    }
    // What the handover left out of place is not the repair's.
    let left = (Section::Handover, json!({"left": {"vertex_mm": 16}}));
    let bend = json!({"by": OPTICIAN, "left": {"length_to_bend_mm": 92}});
    assert_eq!(checks(&[strong(), left], &bend), []);
}

#[test]
fn a_height_and_a_tilt_are_held_where_they_are_set() {
    let height = |mm: f64| json!({"by": OPTICIAN, "left": {"height_mm": mm}});
    assert_eq!(checks(&[], &height(20.0)), []);
    assert_eq!(
        checks(&[], &height(20.1)),
        [("fit-height".to_owned(), Some("left"))]
    );
    let tilt = |deg: f64| json!({"by": OPTICIAN, "pantoscopic_deg": deg});
    assert_eq!(checks(&[], &tilt(12.0)), []);
    assert_eq!(checks(&[], &tilt(12.5)), [("fit-tilt".to_owned(), None)]);
}

#[test]
fn a_restricted_wearers_pair_is_repaired_by_or_under_somebody_registered() {
    let child = (Section::Wearer, json!({"born": "2016-01-01"}));
    let unasked = (Section::Wearer, json!({"sight_impaired": null}));
    for wearer in [&child, &unasked] {
        for (by, supervisor, may) in [
            (ASSISTANT, Value::Null, false),
            (ASSISTANT, json!(TRAINEE), false),
            (ASSISTANT, json!(OPTOMETRIST), true),
            (TRAINEE, Value::Null, true),
            (OPTICIAN, Value::Null, true),
        ] {
            let repair = json!({"by": by, "supervised_by": supervisor, "pads": {"size_mm": 15}});
            let found = checks(std::slice::from_ref(wearer), &repair);
            let expected = if may {
                vec![]
            } else {
                vec![("restricted-handover".to_owned(), None)]
            };
            assert_eq!(found, expected, "{by} under {supervisor}");
        }
        // A screw sets no value.
        let screw = json!({"by": ASSISTANT, "kind": "screw", "note": "tightened"});
        assert_eq!(checks(std::slice::from_ref(wearer), &screw), []);
    }
    assert_eq!(
        checks(&[], &json!({"by": ASSISTANT, "pads": {"size_mm": 15}})),
        []
    );
}

#[test]
fn a_pair_that_was_posted_is_repaired_in_person() {
    let posted = (Section::Handover, json!({"method": "posted"}));
    let child = (Section::Wearer, json!({"born": "2016-01-01"}));
    let repair = json!({"by": OPTICIAN, "right": {"vertex_mm": 12}});
    assert_eq!(checks(&[posted, child], &repair), []);
}
