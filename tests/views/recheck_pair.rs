//! A pair, its recheck, and what lies between them.
#![allow(
    dead_code,
    clippy::needless_pass_by_value,
    reason = "each test file uses its part"
)]

use rimbook::testing::job::{Job, Section, read_jobs};
use rimbook::testing::practice::Practice;
use rimbook::testing::trade::eye::Eye;
use rimbook::testing::views::recheck::{Comparison, Parameter as P, compare};
use serde_json::{Value, json};

pub fn job(parts: Value) -> Job {
    let mut file = json!({"format": "rimbook-job", "version": 1, "wearer": {"name": "Ada"}});
    json_patch::merge(&mut file, &parts);
    read_jobs(&file.to_string()).unwrap().remove(0)
}

/// A pair with a previous one, measured, ordered and read alike.
pub fn first() -> Job {
    let powers = json!({"sphere_d": -2, "cylinder_d": -1, "axis_deg": 180});
    job(json!({
        "number": "26-0001", "stage": "collected",
        "prescription": {"tested_on": "2026-10-01", "right": powers, "left": powers,
            "previous": {"right": powers, "left": powers, "vertex_mm": 12, "base_d": 4, "index": 1.498,
                "design": "single vision", "right_cd_mm": 32, "left_cd_mm": 31}},
        "fitting": {"taken_on": "2026-10-02", "pantoscopic_deg": 8, "face_form_deg": 4, "head_width_mm": 140,
            "right": {"cd_mm": 32, "height_mm": 20, "vertex_mm": 12, "length_to_bend_mm": 96},
            "left": {"cd_mm": 31, "height_mm": 20, "vertex_mm": 12, "length_to_bend_mm": 96}},
        "lenses": {"design": "single vision", "material": "resin 1.50", "base_d": 4, "powers": {"as": "prescribed", "right": powers, "left": powers}},
        "handover": {"pantoscopic_deg": 8, "right": {"vertex_mm": 12, "height_mm": 20}, "left": {"vertex_mm": 12, "height_mm": 20}},
    }))
}

pub fn recheck_of(first: &Job) -> Job {
    Job {
        number: Some("26-0002".to_owned()),
        reason: Some(rimbook::testing::job::Reason::Recheck),
        linked_to: first.number.clone(),
        wearer: first.wearer.clone(),
        prescription: first.prescription.clone(),
        fitting: first.fitting.clone(),
        frame: first.frame.clone(),
        lenses: first.lenses.clone(),
        ..Job::default()
    }
}

pub fn changed(mut job: Job, section: &str, change: Value) -> Job {
    job.record(Section::from_word(section).unwrap(), &change)
        .unwrap();
    job
}

pub fn lined_up(recheck: &Job, first: &Job) -> Comparison {
    compare(recheck, Some(first), &Practice::default())
}

pub fn beyond(c: &Comparison, p: P, eye: Option<Eye>) -> bool {
    c.row(p, eye).unwrap_or_else(|| panic!("{p:?}")).is_beyond()
}

/// The previous pair changed; whether the row is suspected then.
pub fn against(previous: Value, p: P, eye: Option<Eye>) -> bool {
    let first = changed(first(), "prescription", json!({"previous": previous}));
    beyond(&lined_up(&recheck_of(&first), &first), p, eye)
}

/// The fitting measured now; whether the row is suspected then.
pub fn measured(fitting: Value, p: P, eye: Option<Eye>) -> bool {
    let first = first();
    let now = changed(recheck_of(&first), "fitting", fitting);
    beyond(&lined_up(&now, &first), p, eye)
}

pub const R: Option<Eye> = Some(Eye::Right);
