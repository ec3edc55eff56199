//! Prism control, unequal segments, impact marks and tints on the sheets: each once, and on the
//! parcel's sheet nothing that is to be read without the order.

use chrono::NaiveDate;
use rimbook::testing::job::{Job, Section, read_jobs};
use rimbook::testing::practice::Practice;
use rimbook::testing::views::sheet::{SheetKind, Subject, sheet};
use serde_json::{Value, json};

fn sheet_text(what: SheetKind) -> String {
    let lenses = json!({
        "purpose": "safety", "design": "bifocal", "impact_mark": "F", "impact_asked": "S",
        "segment": {"shape": "round", "width_mm": 22, "left_width_mm": 38},
        "tint": {"category": 0, "transmittance_percent": 88, "photochromic": true, "dark_category": 3, "sun": true},
        "prism_control": {"eye": "left", "amount_delta": 1.5, "line_height_mm": 16}
    });
    sheet_of(what, &[(Section::Lenses, lenses)])
}

fn sheet_of(what: SheetKind, changes: &[(Section, Value)]) -> String {
    let all: Value = serde_json::from_str(include_str!("../data/scenarios.json")).unwrap();
    let mut job: Job = read_jobs(&all["scenarios"][0]["job"].to_string())
        .unwrap()
        .remove(0);
    for (section, change) in changes {
        job.record(*section, change).unwrap();
    }
    let practice = Practice::default();
    let of = Subject {
        job: &job,
        number: "1001",
        practice: &practice,
        today: NaiveDate::from_ymd_opt(2026, 10, 12).unwrap(),
    };
    format!("{:?}", sheet(what, of).blocks)
}

#[test]
fn the_order_says_each_once_and_in_its_place() {
    let order = sheet_text(SheetKind::Order);
    for says in [
        "1.5 prism dioptres, base up in the left lens, line 16 mm above the lowest tangent",
        "F, the workplace asks S",
        "22 mm wide, left 38 mm wide",
        "photochromic: light state, transmits 88 %, filter category 0, darkest category 3, for the sun",
    ] {
        assert_eq!(order.matches(says).count(), 1, "{says}: {order}");
    }
    for listed in ["photochromic yes", "prism control in", "impact mark asked"] {
        assert!(!order.contains(listed), "{listed}: {order}");
    }
}

#[test]
fn the_wearer_reads_of_the_tint_in_both_states_and_the_parcel_no_prism_control() {
    let wearer = sheet_text(SheetKind::Wearer);
    assert!(wearer.contains("darkest category 3"), "{wearer}");
    let tray = sheet_text(SheetKind::Tray);
    for hidden in ["base up in the left lens", "the workplace asks"] {
        assert!(!tray.contains(hidden), "{hidden}: {tray}");
    }
}

#[test]
fn a_tint_is_said_with_its_category_from_either_number() {
    for (tint, says) in [
        (
            json!({"transmittance_percent": 60}),
            "transmits 60 %, filter category 1 by its transmittance",
        ),
        (json!({"category": 2}), "filter category 2, over 18 to 43 %"),
        (
            json!({"category": 3, "transmittance_percent": 15}),
            "transmits 15 %, filter category 3",
        ),
    ] {
        let order = sheet_of(
            SheetKind::Order,
            &[(Section::Lenses, json!({"tint": tint}))],
        );
        assert!(order.contains(says), "{says}: {order}");
    }
}

#[test]
fn an_intermediate_addition_is_said_for_both_eyes_once_or_with_its_eye() {
    let both =
        json!({"right": {"intermediate_addition_d": 1}, "left": {"intermediate_addition_d": 1}});
    let wearer = sheet_of(SheetKind::Wearer, &[(Section::Prescription, both)]);
    let said = wearer.matches("intermediate addition").count();
    assert!(
        wearer.contains("intermediate addition 1.00 D in both eyes"),
        "{wearer}"
    );
    assert_eq!(said, 1, "{wearer}");
    let one = json!({"left": {"intermediate_addition_d": 1}});
    let wearer = sheet_of(SheetKind::Wearer, &[(Section::Prescription, one)]);
    assert!(
        wearer.contains("left intermediate addition 1.00 D"),
        "{wearer}"
    );
}
