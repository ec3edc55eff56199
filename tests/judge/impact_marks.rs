//! Impact marks of safety pairs, and materials that break.

use crate::sound_pair::said;
use rimbook::testing::job::{Gate, Section};
use rimbook::testing::judge::gate::{Finding, Severity};
use serde_json::{Value, json};

/// What `impact-work` says of a pair with these marks of frame and lenses, where a mark is asked.
fn of_marks(frame: &Value, lenses: &Value, asked: &Value) -> Vec<Finding> {
    said(
        "impact-work",
        Gate::Ordered,
        &[
            (
                Section::Frame,
                json!({"impact_rated": true, "impact_mark": frame}),
            ),
            (
                Section::Lenses,
                json!({"purpose": "safety", "impact_mark": lenses, "impact_asked": asked}),
            ),
        ],
    )
}

const ORDER: [&[&str]; 4] = [&["S"], &["F", "C"], &["D"], &["E"]];

#[test]
fn the_weaker_of_two_marks_counts_against_what_is_asked() {
    for (rank, marks) in ORDER.iter().enumerate() {
        for (asked_rank, asked) in ORDER.iter().enumerate() {
            for (mark, asked) in marks.iter().zip(asked.iter().cycle()) {
                let (mark, asked) = (json!(mark), json!(asked));
                let is_weak = rank < asked_rank;
                let strong = json!("E");
                for (frame, lenses) in [(&mark, &strong), (&strong, &mark), (&mark, &mark)] {
                    let found = of_marks(frame, lenses, &asked);
                    assert_eq!(!found.is_empty(), is_weak, "{mark} for {asked}: {found:?}");
                    if let Some(f) = found.first() {
                        assert_eq!(f.severity, Severity::Stop);
                        let says = format!("mark {mark}, weaker than the {asked}");
                        let says = says.replace('"', "");
                        assert!(f.message.contains(&says), "{says}: {}", f.message);
                    }
                }
            }
        }
    }
}

#[test]
fn small_letters_and_extreme_temperatures_change_no_mark() {
    for mark in ["f", " F ", "FT", "ft", "F T"] {
        assert!(
            of_marks(&json!(mark), &json!("F"), &json!("F")).is_empty(),
            "{mark}"
        );
    }
}

#[test]
fn a_safety_pair_without_a_mark_is_held_and_the_missing_one_is_named() {
    let (f, none) = (json!("F"), Value::Null);
    for (frame, lenses, says) in [
        (&none, &f, "the frame has no impact mark"),
        (&f, &none, "the lenses have no impact mark"),
        (&json!("  "), &f, "the frame has no impact mark"),
    ] {
        let found = of_marks(frame, lenses, &none);
        assert_eq!(found.len(), 1);
        assert!(found[0].message.contains(says), "{}", found[0].message);
    }
    assert!(of_marks(&f, &f, &none).is_empty());
}

#[test]
fn marks_that_spectacles_cannot_carry_are_refused_on_either_part_and_when_asked() {
    let f = json!("F");
    for mark in ["A", "B", "3", "4", "5", "9", "BT", "Z", "3 4"] {
        let mark = json!(mark);
        for (frame, lenses, asked) in [(&mark, &f, &f), (&f, &mark, &f), (&f, &f, &mark)] {
            let found = of_marks(frame, lenses, asked);
            assert_eq!(found.len(), 1, "{mark}");
            assert_eq!(found[0].severity, Severity::Stop);
        }
    }
}

#[test]
fn a_pair_that_is_no_safety_pair_needs_no_mark() {
    for purpose in ["general", "sport", "distance"] {
        let pair = [(
            Section::Lenses,
            json!({"purpose": purpose, "impact_mark": "B"}),
        )];
        assert!(said("impact-work", Gate::Ordered, &pair).is_empty());
        assert!(mark_unread(purpose, &json!("F"), &Value::Null).is_empty());
    }
}

/// What `unconfirmed` says of the mark as read, of lenses ordered with one.
fn mark_unread(purpose: &str, ordered: &Value, read: &Value) -> Vec<Finding> {
    let changes = [
        (
            Section::Lenses,
            json!({"purpose": purpose, "impact_mark": ordered}),
        ),
        (Section::Readings, json!({ "impact_mark": read })),
    ];
    said("unconfirmed", Gate::Verified, &changes)
        .into_iter()
        .filter(|f| f.field == "readings.impact_mark")
        .collect()
}

#[test]
fn the_mark_of_a_safety_lens_is_read_and_not_weaker_than_ordered() {
    for (ordered, read, is_held) in [
        ("F", Value::Null, true),
        ("F", json!("S"), true),
        ("F", json!("F"), false),
        ("F", json!("C"), false),
        ("F", json!("E"), false),
        ("E", json!("D"), true),
        ("F", json!("B"), true),
    ] {
        let found = mark_unread("safety", &json!(ordered), &read);
        assert_eq!(!found.is_empty(), is_held, "{ordered} {read}");
    }
}

#[test]
fn a_balance_lens_counts_as_one_eye_until_said_otherwise() {
    for (one_eyed, material, is_held) in [
        (Value::Null, "resin 1.60", true),
        (json!(true), "resin 1.60", true),
        (json!(false), "resin 1.60", false),
        (Value::Null, "polycarbonate 1.59", false),
        (json!(true), "resin 1.53", false),
    ] {
        let pair = [
            (Section::Wearer, json!({ "one_eyed": one_eyed })),
            (
                Section::Prescription,
                json!({"left": {"balance": true, "sphere_d": null}}),
            ),
            (Section::Lenses, json!({ "material": material })),
        ];
        let found = said("impact-one-eye", Gate::Ordered, &pair);
        assert_eq!(!found.is_empty(), is_held, "{one_eyed} {material}");
    }
}
