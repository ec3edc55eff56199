//! What the lenses do differently to the eyes: prism at the reading point, image size, and the prism
//! control that evens the first out.

use crate::sound_pair::said;
use rimbook::testing::job::{Gate, Section};
use rimbook::testing::judge::gate::{Finding, Severity};
use serde_json::{Value, json};

type Changes = Vec<(Section, Value)>;

/// A pair of spheres for a purpose, in a design.
fn pair(purpose: &str, design: &str, right_d: f64, left_d: f64) -> Changes {
    let eye = |sphere: f64| json!({"sphere_d": sphere, "cylinder_d": null, "axis_deg": null});
    let eyes = json!({"right": eye(right_d), "left": eye(left_d)});
    vec![
        (
            Section::Prescription,
            json!({"right": eyes["right"], "left": eyes["left"], "previous": null}),
        ),
        (
            Section::Lenses,
            json!({"purpose": purpose, "design": design, "powers": eyes}),
        ),
    ]
}

/// A bifocal pair with round segments 22 mm wide, their tops 3 mm below the centres.
fn bifocal(right: (f64, f64), left: (f64, f64)) -> Changes {
    let mut changes = pair("general", "bifocal", right.0, left.0);
    let additions = json!({"right": {"addition_d": right.1}, "left": {"addition_d": left.1}});
    let heights = json!({"height_mm": 20, "segment_height_mm": 17});
    changes.extend([
        (Section::Prescription, additions.clone()),
        (
            Section::Lenses,
            json!({"powers": additions, "segment": {"shape": "round", "width_mm": 22}}),
        ),
        (
            Section::Fitting,
            json!({"right": heights.clone(), "left": heights}),
        ),
    ]);
    changes
}

fn with(mut changes: Changes, section: Section, change: Value) -> Changes {
    changes.push((section, change));
    changes
}

fn of(id: &str, changes: &Changes) -> Option<Finding> {
    let mut found = said(id, Gate::Ordered, changes);
    assert!(found.len() <= 1, "{found:?}");
    found.pop()
}

fn severity(id: &str, changes: &Changes) -> Option<Severity> {
    of(id, changes).map(|f| f.severity)
}

const WARNING: Option<Severity> = Some(Severity::Warning);
const NOTE: Option<Severity> = Some(Severity::Note);

#[test]
fn the_reading_point_is_ten_millimetres_below_and_eight_in_a_segment() {
    for (purpose, design, right_d, expected) in [
        ("general", "single vision", 1.0, None),
        ("general", "single vision", 1.25, WARNING),
        ("distance", "single vision", 4.0, None),
        ("distance", "progressive", 1.25, WARNING),
        ("general", "bifocal", 1.25, None),
        ("general", "bifocal", 1.5, WARNING),
    ] {
        let changes = pair(purpose, design, right_d, 0.0);
        assert_eq!(
            severity("aniso-near", &changes),
            expected,
            "{purpose} {design} {right_d}"
        );
    }
}

#[test]
fn prescribed_prism_is_left_out() {
    let prism = json!({"right": {"base_up_delta": 2.0}, "left": {"base_up_delta": -2.0}});
    let changes = with(
        pair("general", "single vision", 1.0, 0.0),
        Section::Lenses,
        json!({ "powers": prism }),
    );
    assert_eq!(severity("aniso-near", &changes), None);
}

/// Published: Durham Technical College, NFOS-12, module 9 part d: 1.2 prism dioptres.
#[test]
fn the_segments_own_prism_is_counted_in() {
    let found = of("aniso-near", &bifocal((5.0, 3.0), (2.0, 1.0))).unwrap();
    assert!(found.message.contains("1.20"), "{}", found.message);
    assert!(found.message.contains("included"), "{}", found.message);
    // Alike, they cancel: 3.00 D at 8 mm.
    let found = of("aniso-near", &bifocal((5.0, 2.0), (2.0, 2.0))).unwrap();
    assert!(found.message.contains("2.40"), "{}", found.message);
    assert!(!found.message.contains("segments"), "{}", found.message);
}

#[test]
fn unequal_segments_take_the_difference_away() {
    let alike = bifocal((-4.0, 2.25), (-1.0, 2.25));
    assert_eq!(severity("aniso-near", &alike), WARNING);
    // 20 x 2.4 / 2.25 = 21.3 mm more on the lens that needs base down.
    for (left_width_mm, expected) in [(43.3, None), (30.0, WARNING), (58.0, WARNING)] {
        let changes = with(
            alike.clone(),
            Section::Lenses,
            json!({"segment": {"left_width_mm": left_width_mm}}),
        );
        assert_eq!(
            severity("aniso-near", &changes),
            expected,
            "{left_width_mm}"
        );
    }
}

#[test]
fn a_segment_of_unknown_size_is_left_out_and_that_is_said() {
    let size = json!({"segment": {"shape": "flat top", "width_mm": 28, "top_to_centre_mm": null}});
    let unequal = with(
        bifocal((5.0, 3.0), (2.0, 1.0)),
        Section::Lenses,
        size.clone(),
    );
    let found = of("aniso-near", &unequal).unwrap();
    assert!(found.message.contains("left out"), "{}", found.message);
    assert!(found.message.contains("2.40"), "{}", found.message);
    // Of the same addition at the same height the size does not matter.
    let equal = with(bifocal((5.0, 2.0), (2.0, 2.0)), Section::Lenses, size);
    let found = of("aniso-near", &equal).unwrap();
    assert!(!found.message.contains("left out"), "{}", found.message);
}

#[test]
fn prism_control_is_taken_off_on_the_lens_that_needs_it() {
    // 2.4 prism dioptres: the right lens is the more minus and needs base up.
    let pair = bifocal((-4.0, 2.25), (-1.0, 2.25));
    for (eye, amount, expected) in [
        ("right", 2.4, None),
        ("right", 1.4, None),
        ("right", 1.25, WARNING),
        ("right", 3.5, WARNING),
        ("left", 2.4, WARNING),
    ] {
        let changes = with(
            pair.clone(),
            Section::Lenses,
            json!({"prism_control": {"eye": eye, "amount_delta": amount}}),
        );
        assert_eq!(severity("aniso-near", &changes), expected, "{eye} {amount}");
        if let Some(found) = of("aniso-near", &changes) {
            assert!(found.message.contains(eye), "{}", found.message);
        }
    }
}

#[test]
fn prism_control_on_the_lens_that_needs_none_is_at_least_noted() {
    let changes = with(
        pair("general", "single vision", 0.5, 0.0),
        Section::Lenses,
        json!({"prism_control": {"eye": "right", "amount_delta": 2.0}}),
    );
    let found = of("aniso-near", &changes).unwrap();
    assert_eq!(found.severity, Severity::Note);
    assert!(found.message.contains("2.50"), "{}", found.message);
}

#[test]
fn what_the_previous_pair_had_within_a_half_is_a_note() {
    for (before_d, expected) in [
        (3.0, NOTE),
        (2.5, NOTE),
        (2.4, WARNING),
        (3.5, NOTE),
        (3.75, WARNING),
        (-3.0, WARNING),
    ] {
        let previous = json!({"right": {"sphere_d": before_d}, "left": {"sphere_d": 0.0}});
        let changes = with(
            pair("general", "single vision", 3.0, 0.0),
            Section::Prescription,
            json!({ "previous": previous }),
        );
        assert_eq!(severity("aniso-near", &changes), expected, "{before_d}");
    }
}

/// Adds that only one eye is useful, in each way that says so.
fn one_eye(changes: &Changes) -> [Changes; 2] {
    [
        with(changes.clone(), Section::Wearer, json!({"one_eyed": true})),
        with(
            changes.clone(),
            Section::Prescription,
            json!({"left": {"balance": true}}),
        ),
    ]
}

#[test]
fn one_useful_eye_is_compared_with_nothing() {
    let changes = pair("general", "single vision", 1.0, -7.0);
    for id in ["aniso-near", "aniseikonia"] {
        assert_eq!(severity(id, &changes), WARNING);
        for one in one_eye(&changes) {
            assert_eq!(severity(id, &one), None);
        }
    }
}

#[test]
fn image_sizes_may_differ_by_three_percent_points() {
    // By 1/(1 - 0.015 F) and a shape factor of 1.00555: 2.84 and 3.19 percent points.
    for (left_d, expected) in [(-3.0, None), (-3.25, WARNING)] {
        let changes = pair("distance", "single vision", -1.0, left_d);
        assert_eq!(severity("aniseikonia", &changes), expected, "{left_d}");
    }
}

#[test]
fn crossed_cylinders_differ_along_a_meridian_although_no_strongest_power_does() {
    let eye = |axis: f64| json!({"sphere_d": 0.0, "cylinder_d": -4.0, "axis_deg": axis});
    let eyes = json!({"right": eye(90.0), "left": eye(180.0)});
    let changes = vec![
        (Section::Prescription, eyes.clone()),
        (Section::Lenses, json!({ "powers": eyes })),
    ];
    let found = of("aniseikonia", &changes).unwrap();
    assert_eq!(found.severity, Severity::Warning);
    assert!(found.message.contains("along 90"), "{}", found.message);
    assert!(found.message.contains("5.7 percent"), "{}", found.message);
}

#[test]
fn a_difference_that_the_previous_pair_nearly_had_is_a_note() {
    // 3.19 now; with -2.75 before 2.50, with -2.25 before 1.80.
    for (before, expected) in [
        (json!({"sphere_d": -3.25}), NOTE),
        (json!({"sphere_d": -2.75}), NOTE),
        (json!({"sphere_d": -2.25}), WARNING),
        (json!({}), WARNING),
    ] {
        let previous = json!({"right": {"sphere_d": -1.0}, "left": before});
        let changes = with(
            pair("distance", "single vision", -1.0, -3.25),
            Section::Prescription,
            json!({ "previous": previous }),
        );
        assert_eq!(severity("aniseikonia", &changes), expected, "{before}");
    }
}

/// What is said of prism control of 2.0 ordered on the right lens, as it was read.
fn made(read: &Value) -> Option<Finding> {
    let changes = [
        (
            Section::Lenses,
            json!({"prism_control": {"eye": "right", "amount_delta": 2.0}}),
        ),
        (Section::Readings, json!({ "prism_control_delta": read })),
    ];
    let mut found = said("prism-control-made", Gate::Verified, &changes);
    assert!(found.len() <= 1, "{found:?}");
    found.pop()
}

#[test]
fn prism_control_is_read_on_its_lens_and_within_a_half() {
    for (read, says) in [
        (json!({"right": 2.0}), None),
        (json!({"right": 2.5}), None),
        (json!({"right": 1.5, "left": 0.0}), None),
        (json!({"right": 2.55}), Some("out by 0.55")),
        (json!({"right": 1.4}), Some("out by 0.60")),
        (json!({"left": 2.0}), Some("is on the left lens")),
        (
            json!({"right": 0.0, "left": 2.0}),
            Some("is on the left lens"),
        ),
        (
            json!({"right": 2.0, "left": 2.0}),
            Some("the left lens has 2.00 too"),
        ),
        (json!({"right": 0.0}), Some("out by 2.00")),
        (json!({"left": 0.0}), Some("has not been read")),
        (Value::Null, Some("has not been read")),
    ] {
        let found = made(&read);
        assert_eq!(found.is_some(), says.is_some(), "{read}: {found:?}");
        if let (Some(found), Some(says)) = (found, says) {
            assert_eq!(found.severity, Severity::Stop);
            assert!(found.message.contains(says), "{says}: {}", found.message);
        }
    }
}

#[test]
fn without_prism_control_ordered_nothing_is_asked_and_half_an_order_is_named() {
    let of = |control: Value| {
        let changes = [(Section::Lenses, json!({ "prism_control": control }))];
        said("prism-control-made", Gate::Verified, &changes)
    };
    assert!(of(Value::Null).is_empty());
    assert!(of(json!({"eye": "right", "amount_delta": 0.0})).is_empty());
    assert!(
        of(json!({"amount_delta": 2.0}))[0]
            .message
            .contains("its lens")
    );
    assert!(of(json!({"eye": "left"}))[0].message.contains("its amount"));
}
