//! What a laboratory and a wearer are told of frame and lenses, each thing once.

use chrono::NaiveDate;
use rimbook::testing::job::Job;
use rimbook::testing::practice::Practice;
use rimbook::testing::views::sheet::{SheetKind, Subject, sheet};
use serde_json::{Value, json};

fn paper(what: SheetKind, job: &Value) -> String {
    let job: Job = serde_json::from_value(job.clone()).unwrap();
    let of = Subject {
        job: &job,
        number: "1001",
        practice: &Practice::default(),
        today: NaiveDate::from_ymd_opt(2026, 11, 25).unwrap(),
    };
    let text = rimbook::testing::exchange::paper::text(&sheet(what, of));
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn office() -> Value {
    json!({
        "wearer": {"name": "Ida Example-Thorn", "born": "1976-11-25"},
        "prescription": {
            "right": {"sphere_d": -1, "addition_d": 2}, "left": {"sphere_d": -1.5, "addition_d": 2},
        },
        "fitting": {"right": {"cd_mm": 31.5, "height_mm": 20}, "left": {"cd_mm": 33, "height_mm": 20}},
        "frame": {
            "name": "Model Seven", "colour": "deep blue", "maker": "Rowan Works", "supplier": "Vale Supply",
            "a_mm": 52, "b_mm": 38, "dbl_mm": 18, "ed_mm": 55,
        },
        "lenses": {
            "design": "office", "purpose": "general", "maker": "Glen Optical", "product": "Desk",
            "variant": "Wide", "form": "aspheric", "supply": "edged", "edge_finish": "matt edge",
            "power_drop_d": 1.25,
            "tint": {
                "transmittance_percent": 85, "category": 0, "photochromic": true, "dark_category": 3, "sun": true,
            },
            "powers": {
                "as": "prescribed",
                "right": {"sphere_d": -1, "addition_d": 2}, "left": {"sphere_d": -1.5, "addition_d": 2},
            },
        },
    })
}

#[test]
fn the_order_names_lenses_and_frame_once_each() {
    let text = paper(SheetKind::Order, &office());
    for once in [
        "Glen Optical",
        "Desk",
        "Wide",
        "aspheric",
        "edged",
        "matt edge",
        "Rowan Works",
        "Vale Supply",
        "deep blue",
        "photochromic",
        "darkest category 3",
        "for the sun",
        "near power right +1.00, left +0.50",
        "power drop 1.25 D from near to the top",
    ] {
        assert_eq!(text.matches(once).count(), 1, "{once}: {text}");
    }
    let mut far = office();
    far["lenses"]["far_mm"] = json!(2000);
    far["lenses"]["power_drop_d"] = Value::Null;
    let text = paper(SheetKind::Order, &far);
    assert!(
        text.contains("furthest distance to be clear 2000 mm"),
        "{text}"
    );
    assert!(!text.contains("power drop"), "{text}");
}

#[test]
fn the_wearer_of_office_lenses_reads_where_they_are_clear() {
    let text = paper(SheetKind::Wearer, &office());
    assert!(text.contains("not for driving"), "{text}");
    // Age 50: amplitude 3.50 D; 1/(2.00 + 3.50) and 1/(2.00 - 1.25) m.
    assert!(text.contains("clear from about 18 to 133 cm"), "{text}");
    let mut far = office();
    far["lenses"]["far_mm"] = json!(2000);
    far["wearer"]["born"] = Value::Null;
    let text = paper(SheetKind::Wearer, &far);
    assert!(text.contains("clear to about 200 cm"), "{text}");
    let mut other = office();
    other["lenses"]["design"] = json!("progressive");
    let text = paper(SheetKind::Wearer, &other);
    assert!(!text.contains("clear from"), "{text}");
    assert!(!text.contains("not for driving"), "{text}");
}
