//! As-worn powers and thicknesses against cases worked by the scripts of `tests/reference`.
//!
//! The data and what was seen: `tests/data/SOURCES.md`.

use crate::common;

use serde_json::Value;

fn cases(name: &str) -> Vec<Value> {
    let cases = common::json(name)["cases"].as_array().unwrap().clone();
    assert_eq!(cases.len(), 200);
    cases
}

#[test]
fn two_hundred_lenses_as_worn_agree_with_a_general_ray_tracer() {
    let failures = common::failures(&cases("as_worn_more.json"), true);
    assert!(failures.is_empty(), "{failures:#?}");
}

#[test]
fn two_hundred_finished_lenses_agree_with_plain_sums() {
    let mut cases = cases("thickness_more.json");
    let failures = common::failures(&cases, true);
    assert!(failures.is_empty(), "{failures:#?}");
    // The tolerance leaves room for the grid that the weight is summed over; lengths need none.
    for case in &mut cases {
        case["result"].as_object_mut().unwrap().remove("weight_g");
        case["tolerance"] = Value::from(1e-6);
    }
    let failures = common::failures(&cases, true);
    assert!(failures.is_empty(), "{failures:#?}");
}

#[test]
fn what_is_worn_is_what_was_ordered_for_it() {
    for case in cases("as_worn_more.json") {
        let mut request = case["request"].clone();
        request["calc"] = "as_worn_compensate".into();
        request["rx"] = case["result"]["rx"].clone();
        let order = common::ask(&request);
        assert_eq!(order["ok"], true, "{order}");
        let away = common::differs(
            &order["result"]["rx"],
            &case["request"]["rx"],
            0.0005,
            true,
            "rx",
        );
        assert_eq!(away, None, "{request}");
    }
}
