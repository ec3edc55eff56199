//! An acceptance given under words of an earlier version still settles the same finding.

use crate::sound_pair::{Change, OPTICIAN, said};
use rimbook::testing::job::{Gate, Section};
use rimbook::testing::judge::gate::Acceptance;
use serde_json::{Value, json};

/// A strong office pair whose distances were taken without spectacles.
fn office() -> [Change; 3] {
    let eye = json!({"sphere_d": -6, "addition_d": 2});
    [
        (Section::Prescription, json!({"right": eye, "left": eye})),
        (Section::Lenses, json!({"design": "office"})),
        (
            Section::Fitting,
            json!({"centration": "without spectacles"}),
        ),
    ]
}

/// An acceptance of the check with these values.
fn acceptance(values: &Value) -> Acceptance {
    serde_json::from_value(json!({
        "check": "centration-method", "eye": null, "values": values, "by": OPTICIAN,
        "role": "dispensing optician", "reason": "measured again", "on": "2026-10-01",
    }))
    .unwrap()
}

#[test]
fn an_acceptance_under_an_old_word_settles_the_same_finding() {
    let found = said("centration-method", Gate::Ordered, &office());
    let [finding] = &found[..] else {
        panic!("{found:?}");
    };
    let mut values = json!(finding.values);
    assert_eq!(values["design"], "office");
    assert!(acceptance(&values).settles(finding));
    values["design"] = json!("occupational");
    assert!(acceptance(&values).settles(finding));
    values["design"] = json!("progressive");
    assert!(!acceptance(&values).settles(finding));
}
