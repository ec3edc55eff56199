//! How far each measurement of a job may be out, as rows, and which is to be measured twice.

use rimbook::testing::job::Job;
use rimbook::testing::judge::derive::accuracy::{BudgetRow, budget_rows};
use rimbook::testing::practice::Practice;
use rimbook::testing::trade::eye::Eye;
use rimbook::testing::trade::tolerance::Quantity;
use serde_json::json;

/// A single-vision pair of one power with everything measured but the heights.
fn pair(sphere_d: f64) -> Job {
    let eye = json!({"sphere_d": sphere_d});
    let fitting = json!({"cd_mm": 32, "vertex_mm": 12});
    serde_json::from_value(json!({
        "prescription": {"tested_vertex_mm": 12, "right": eye, "left": eye},
        "fitting": {"right": fitting, "left": fitting, "pantoscopic_deg": 8, "face_form_deg": 5},
        "lenses": {"design": "single vision", "material": "resin 1.60"}
    }))
    .unwrap()
}

fn rows(job: &Job) -> Vec<BudgetRow> {
    budget_rows(job, &Practice::default())
}

fn row(job: &Job, field: &str) -> BudgetRow {
    rows(job).into_iter().find(|r| r.field == field).unwrap()
}

fn marked(job: &Job) -> Vec<String> {
    let rows = rows(job).into_iter().filter(|r| r.measure_twice);
    rows.map(|r| r.field).collect()
}

#[test]
fn every_measurement_has_a_row_with_both_sides_and_the_rule_that_ends_it() {
    let job = pair(-10.0);
    let fields: Vec<String> = rows(&job).into_iter().map(|r| r.field).collect();
    assert_eq!(
        fields,
        [
            "fitting.right.cd_mm",
            "fitting.left.cd_mm",
            "fitting.right.height_mm",
            "fitting.left.height_mm",
            "fitting.right.vertex_mm",
            "fitting.left.vertex_mm",
            "fitting.pantoscopic_deg",
            "fitting.face_form_deg",
        ]
    );
    let cd = row(&job, "fitting.left.cd_mm");
    assert_eq!(
        (cd.eye, cd.rule, cd.unit),
        (Some(Eye::Left), Some(Quantity::PrismHorizontal), "mm")
    );
    // 0.20 F of 10 D is 2 mm of displacement.
    assert_eq!(cd.short().as_deref(), Some("±2.0"));
    let tilt = row(&job, "fitting.pantoscopic_deg");
    assert_eq!((tilt.eye, tilt.unit), (None, "degrees"));
}

#[test]
fn the_tightest_is_judged_by_how_well_a_measurement_repeats() {
    // At -10 D two degrees more of tilt add the 0.12 D of cylinder allowed: half of what two
    // readings of an angle agree within, while 1.8 mm of vertex distance are nearly twice theirs.
    let job = pair(-10.0);
    let tilt = row(&job, "fitting.pantoscopic_deg").smallest().unwrap();
    let vertex = row(&job, "fitting.right.vertex_mm").smallest().unwrap();
    assert!(tilt > vertex && tilt / 4.0 < vertex, "{tilt} {vertex}");
    assert_eq!(marked(&job), ["fitting.pantoscopic_deg"]);
    let text = row(&job, "fitting.pantoscopic_deg").text().unwrap();
    assert!(
        text.starts_with("measure twice: -") && text.ends_with('°'),
        "{text}"
    );
}

#[test]
fn a_height_that_nobody_took_is_not_to_be_taken_twice() {
    let mut job = pair(-10.0);
    job.fitting.pantoscopic_deg = None;
    assert!(row(&job, "fitting.right.height_mm").smallest().unwrap() < 1.001);
    assert!(marked(&job).iter().all(|f| f.ends_with("vertex_mm")));
    let height = serde_json::from_value(json!(22)).unwrap();
    job.fitting.right.height_mm = Some(height);
    assert_eq!(marked(&job), ["fitting.right.height_mm"]);
}

#[test]
fn a_tenth_of_the_power_has_ten_times_the_budget_until_the_limit_grows_with_it() {
    let cd = |d| row(&pair(d), "fitting.right.cd_mm").smallest().unwrap();
    // 0.67 prism dioptres at 1 D; at 10 D the limit itself is 2.00: three times the budget, not ten.
    assert!((cd(-1.0) / cd(-10.0) - 6.7 / 2.0).abs() < 1e-9);
    assert!((cd(-0.25) / cd(-2.5) - 10.0).abs() < 1e-9);
}

#[test]
fn what_is_shown_is_rounded_down_and_an_open_side_is_said() {
    let job = pair(-3.0);
    let vertex = row(&job, "fitting.right.vertex_mm");
    // 12 mm in front of the eye a lens of 3 D can come as near as the eye.
    assert_eq!(vertex.minus, None);
    let shown = vertex.text().unwrap();
    assert!(shown.contains(" mm, less without limit"), "{shown}");
    for row in rows(&job) {
        let Some(by) = row.smallest() else { continue };
        let shown: f64 = row.smallest_text().unwrap().parse().unwrap();
        assert!(shown <= by + 1e-6 && by < shown + 0.1, "{shown} {by}");
    }
}

#[test]
fn without_a_lens_there_is_no_row() {
    assert_eq!(rows(&Job::default()), []);
}
