//! The finished pair on the face: what must be recorded, what is asked, and what advice is due.

#![allow(
    clippy::needless_pass_by_value,
    reason = "values written where they are used"
)]

use crate::sound_pair::{Change, said, severities};
use rimbook::testing::job::Gate::Collected;
use rimbook::testing::job::Section;
use rimbook::testing::judge::gate::{About, Severity};
use rimbook::testing::trade::eye::Eye;
use serde_json::{Value, json};

fn design(design: &str) -> Change {
    let eye = json!({"addition_d": 2.0});
    (
        Section::Lenses,
        json!({"design": design, "powers": {"right": eye, "left": eye}}),
    )
}

fn before(design: Value) -> Change {
    let previous = json!({"previous": {"design": design}});
    (Section::Prescription, previous)
}

fn face(eye: &str, values: Value) -> Change {
    (Section::Handover, json!({ eye: values }))
}

#[test]
fn vertex_and_length_to_bend_as_handed_over_are_asked_for_each_eye() {
    for key in ["vertex_mm", "length_to_bend_mm"] {
        let list = said(
            "fit-unrecorded",
            Collected,
            &[face("left", json!({ key: null }))],
        );
        assert_eq!(list.len(), 1, "{key}");
        assert_eq!(
            (list[0].eye, list[0].severity),
            (About::from(Eye::Left), Severity::Stop)
        );
        assert_eq!(list[0].field, format!("handover.left.{key}"));
    }
    let without_sides = (Section::Frame, json!({"side_mm": 0}));
    let bend = face("left", json!({"length_to_bend_mm": null}));
    assert!(said("fit-unrecorded", Collected, &[without_sides, bend]).is_empty());
}

#[test]
fn a_first_multifocal_pair_has_its_height_on_the_face_recorded() {
    let none = json!({"height_mm": null, "segment_height_mm": null});
    for (pair, previous, key) in [
        ("progressive", Value::Null, Some("height_mm")),
        ("progressive", json!("single vision"), Some("height_mm")),
        ("progressive", json!("Single Vision"), Some("height_mm")),
        ("office", Value::Null, Some("height_mm")),
        ("office", json!("single vision"), Some("height_mm")),
        ("bifocal", Value::Null, Some("segment_height_mm")),
        (
            "trifocal",
            json!("single vision"),
            Some("segment_height_mm"),
        ),
        ("progressive", json!("progressive"), None),
        ("progressive", json!("bifocal"), None),
        ("office", json!("occupational"), None),
        ("single vision", Value::Null, None),
    ] {
        let changes = [
            design(pair),
            before(previous.clone()),
            face("right", none.clone()),
        ];
        let fields: Vec<String> = said("fit-unrecorded", Collected, &changes)
            .into_iter()
            .filter(|f| f.eye == About::from(Eye::Right))
            .map(|f| f.field)
            .collect();
        let expected: Vec<String> = key
            .map(|key| format!("handover.right.{key}"))
            .into_iter()
            .collect();
        assert_eq!(fields, expected, "{pair} after {previous}");
        if let Some(key) = key {
            let mut recorded = changes.to_vec();
            recorded.push(face("right", json!({ key: 19 })));
            let list = said("fit-unrecorded", Collected, &recorded);
            assert!(
                list.iter().all(|f| f.eye != About::from(Eye::Right)),
                "{pair}"
            );
        }
    }
}

#[test]
fn of_a_pair_that_was_not_fitted_nothing_on_the_face_is_asked() {
    let nothing = json!({
        "right": {"vertex_mm": null, "length_to_bend_mm": null, "height_mm": null},
        "left": {"vertex_mm": null, "length_to_bend_mm": null, "height_mm": null},
        "pads_level": null, "sides_even": null, "no_pressure_marks": null,
        "comfortable": null, "distance_acuity": null, "near_acuity": null,
    });
    let prism = (
        Section::Prescription,
        json!({"right": {"base_in_delta": 1.0}}),
    );
    let ids = [
        "fit-unrecorded",
        "fit-bearing",
        "not-comfortable",
        "acuity-missing",
    ];
    let changes = [prism, (Section::Handover, nothing)];
    for id in ids {
        assert!(!said(id, Collected, &changes).is_empty(), "{id}");
    }
    for method in ["posted", "taken by another"] {
        let mut away = changes.to_vec();
        away.push((Section::Handover, json!({ "method": method })));
        for id in ids {
            assert!(said(id, Collected, &away).is_empty(), "{id} {method}");
        }
        // Of a child's, everything is still asked.
        away.push((Section::Wearer, json!({"born": "2016-01-01"})));
        for id in ids {
            assert!(!said(id, Collected, &away).is_empty(), "{id} {method}");
        }
    }
}

#[test]
fn comfort_is_asked_and_of_prism_whether_it_is_seen_single() {
    let of = |changes: &[Change]| severities("not-comfortable", Collected, changes);
    let comfortable = |answer: Value| (Section::Handover, json!({ "comfortable": answer }));
    assert_eq!(of(&[comfortable(json!(true))]), []);
    assert_eq!(of(&[comfortable(json!(false))]), [Severity::Warning]);
    assert_eq!(of(&[comfortable(Value::Null)]), [Severity::Stop]);
    let prism = |key: &str| (Section::Prescription, json!({"left": { key: 0.5 }}));
    let single = |answer: Value| (Section::Handover, json!({ "sees_single": answer }));
    let unasked = || single(Value::Null);
    assert_eq!(of(&[unasked()]), []);
    for key in ["base_in_delta", "base_up_delta"] {
        assert_eq!(of(&[prism(key), unasked()]), [Severity::Stop], "{key}");
        assert_eq!(of(&[prism(key), single(json!(true))]), [], "{key}");
        // Seeing double has a check of its own.
        assert_eq!(of(&[prism(key), single(json!(false))]), [], "{key}");
        let double = [prism(key), single(json!(false))];
        assert_eq!(
            severities("sees-double", Collected, &double),
            [Severity::Stop]
        );
    }
    // Prism for near alone is none of a distance pair.
    assert_eq!(of(&[prism("near_base_in_delta"), unasked()]), []);
    let near = (Section::Lenses, json!({"purpose": "near"}));
    let near_prism = prism("near_base_in_delta");
    assert_eq!(of(&[near, near_prism, unasked()]), [Severity::Stop]);
    assert_eq!(
        of(&[prism("base_in_delta"), comfortable(Value::Null), unasked()]).len(),
        2
    );
}

#[test]
fn a_driver_is_advised_about_tinted_photochromic_and_office_pairs() {
    let missing = |drives: bool, lenses: Value| {
        let changes = [
            (Section::Wearer, json!({ "drives": drives })),
            (Section::Lenses, lenses),
            (
                Section::Handover,
                json!({"advice": ["adaptation", "care", "aftercare"]}),
            ),
        ];
        let list = said("advice-missing", Collected, &changes);
        list.first().map(|f| f.values["missing"].clone())
    };
    let driving = Some(json!(["driving"]));
    for (lenses, asks) in [
        (json!({"tint": {"sun": true}}), true),
        (json!({"tint": {"category": 2}}), true),
        (json!({"tint": {"photochromic": true}}), true),
        (json!({"design": "office"}), true),
        (json!({"tint": {"category": 0}}), false),
        (json!({"tint": {"transmittance_percent": 92}}), false),
        (json!({}), false),
    ] {
        let expected = if asks { driving.clone() } else { None };
        assert_eq!(missing(true, lenses.clone()), expected, "{lenses}");
        assert_eq!(missing(false, lenses.clone()), None, "{lenses}");
    }
}

#[test]
fn getting_used_to_it_is_said_of_every_first_multifocal_pair() {
    let missing = |pair: &str, previous: Value| {
        let changes = [
            design(pair),
            before(previous),
            (
                Section::Handover,
                json!({"advice": ["driving", "care", "aftercare"]}),
            ),
        ];
        !said("advice-missing", Collected, &changes).is_empty()
    };
    for pair in ["bifocal", "trifocal", "progressive", "office"] {
        assert!(missing(pair, Value::Null), "{pair}");
        assert!(missing(pair, json!("single vision")), "{pair}");
        assert!(!missing(pair, json!("progressive")), "{pair}");
    }
    assert!(!missing("single vision", Value::Null));
}
