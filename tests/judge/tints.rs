//! Tints: for a driver, with themselves, and too dark.

use crate::sound_pair::{said, said_in};
use rimbook::testing::job::{Gate, Section};
use rimbook::testing::judge::gate::{Finding, Severity};
use rimbook::testing::practice::Practice;
use serde_json::{Value, json};

/// What a check says of a tint of a driver's pair for a purpose.
fn of_tint(id: &str, purpose: &str, tint: &Value) -> Vec<Finding> {
    said(
        id,
        Gate::Ordered,
        &[
            (Section::Wearer, json!({"drives": true})),
            (Section::Lenses, json!({"purpose": purpose, "tint": tint})),
        ],
    )
}

fn severity(findings: &[Finding]) -> Option<Severity> {
    assert!(findings.len() <= 1, "{findings:?}");
    findings.first().map(|f| f.severity)
}

#[test]
fn category_four_or_as_dark_stops_a_driver_whatever_the_pair_is_for() {
    let stop = Some(Severity::Stop);
    for purpose in ["general", "distance", "near", "safety", "sport"] {
        for sun in [true, false] {
            for (tint, expected) in [
                (json!({"category": 4, "sun": sun}), stop),
                (json!({"transmittance_percent": 8, "sun": sun}), stop),
                // The darker of the two decides, the contradiction is another finding.
                (
                    json!({"category": 3, "transmittance_percent": 5, "sun": sun}),
                    stop,
                ),
                (
                    json!({"category": 4, "transmittance_percent": 30, "sun": sun}),
                    stop,
                ),
            ] {
                assert_eq!(
                    severity(&of_tint("tint-driving", purpose, &tint)),
                    expected,
                    "{purpose} {tint}"
                );
            }
        }
    }
}

#[test]
fn a_driver_is_warned_below_three_quarters_of_the_light_in_a_pair_for_all_hours() {
    let warning = Some(Severity::Warning);
    for (purpose, tint, expected) in [
        ("general", json!({"transmittance_percent": 74}), warning),
        ("distance", json!({"transmittance_percent": 74}), warning),
        ("general", json!({"transmittance_percent": 75}), None),
        ("general", json!({"transmittance_percent": 76}), None),
        ("near", json!({"transmittance_percent": 20}), None),
        ("safety", json!({"transmittance_percent": 20}), None),
        // Category 1 may let 80 % through, category 2 at most 43 %.
        ("general", json!({"category": 1}), None),
        ("general", json!({"category": 2}), warning),
        (
            "general",
            json!({"category": 1, "transmittance_percent": 50}),
            warning,
        ),
        ("general", json!({"category": 3, "sun": true}), None),
        (
            "general",
            json!({"transmittance_percent": 8.5, "sun": true}),
            None,
        ),
        ("general", json!({"colour": "brown"}), None),
        ("general", Value::Null, None),
    ] {
        assert_eq!(
            severity(&of_tint("tint-driving", purpose, &tint)),
            expected,
            "{purpose} {tint}"
        );
    }
}

#[test]
fn a_photochromic_lens_is_judged_by_its_light_state() {
    let light = json!({"category": 0, "photochromic": true, "dark_category": 4});
    assert!(of_tint("tint-driving", "general", &light).is_empty());
    let half = json!({"transmittance_percent": 60, "photochromic": true, "dark_category": 3});
    let found = of_tint("tint-driving", "general", &half);
    assert_eq!(severity(&found), Some(Severity::Warning));
    assert!(
        found[0].message.contains("light state"),
        "{}",
        found[0].message
    );
}

#[test]
fn nobody_who_does_not_drive_is_asked_about_driving() {
    for drives in [json!(false), Value::Null] {
        let changes = [
            (Section::Wearer, json!({ "drives": drives })),
            (Section::Lenses, json!({"tint": {"category": 4}})),
        ];
        assert!(said("tint-driving", Gate::Ordered, &changes).is_empty());
    }
}

#[test]
fn category_and_transmittance_agree_within_the_edges_of_each_category() {
    for (category, from, to) in [
        (0, 80.1, 100.0),
        (1, 43.1, 80.0),
        (2, 18.1, 43.0),
        (3, 8.1, 18.0),
        (4, 3.1, 8.0),
    ] {
        for t in [from, to] {
            let tint = json!({"category": category, "transmittance_percent": t});
            let found = of_tint("tint-contradicts", "general", &tint);
            assert!(found.is_empty(), "{tint}: {found:?}");
        }
        for other in (0..=4).filter(|other| *other != category) {
            let tint = json!({"category": other, "transmittance_percent": to});
            let found = of_tint("tint-contradicts", "general", &tint);
            assert_eq!(severity(&found), Some(Severity::Warning), "{tint}");
            let both = [
                format!("category {other}"),
                format!("category {category}"),
                format!("{to} %"),
            ];
            for says in both {
                assert!(
                    found[0].message.contains(&says),
                    "{says}: {}",
                    found[0].message
                );
            }
        }
    }
    for tint in [
        json!({"category": 2}),
        json!({"transmittance_percent": 40}),
        json!({"category": 1, "transmittance_percent": 3}),
    ] {
        assert!(
            of_tint("tint-contradicts", "general", &tint).is_empty(),
            "{tint}"
        );
    }
}

#[test]
fn three_per_cent_and_less_is_not_for_general_use() {
    for (t, is_dark) in [(3.1, false), (3.0, true), (0.0, true)] {
        let tint = json!({"transmittance_percent": t});
        let found = of_tint("tint-dark", "general", &tint);
        assert_eq!(severity(&found), is_dark.then_some(Severity::Stop), "{t}");
    }
    assert!(of_tint("tint-dark", "general", &json!({"category": 4})).is_empty());
    let mut own = Practice::default();
    own.set("tint-dark", "5").unwrap();
    let tint = [(
        Section::Lenses,
        json!({"tint": {"category": 3, "transmittance_percent": 5}}),
    )];
    assert_eq!(said_in(&own, "tint-dark", Gate::Ordered, &tint).len(), 1);
    assert!(said_in(&own, "tint-contradicts", Gate::Ordered, &tint).is_empty());
}

#[test]
fn a_photochromic_lens_that_is_lighter_when_it_has_darkened_is_named_with_both_categories() {
    let of = |tint: Value| of_tint("tint-contradicts", "general", &tint);
    let said = of(json!({"photochromic": true, "category": 3, "dark_category": 1}));
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].message.contains("category 3") && said[0].message.contains("category 1"));
    for sound in [
        json!({"photochromic": true, "category": 0, "dark_category": 3}),
        json!({"photochromic": true, "category": 2, "dark_category": 2}),
        json!({"photochromic": false, "category": 3, "dark_category": 1}),
    ] {
        assert!(of(sound.clone()).is_empty(), "{sound}");
    }
}
