//! A collected pair that other jobs are begun from, and what a check says of one.
//!
//! `tests/data/scenarios.json`: people, frames and laboratories are invented.
#![allow(
    clippy::cast_possible_truncation,
    dead_code,
    reason = "each test file uses its part"
)]

use crate::driver::scenario;
use chrono::NaiveDate;
use rimbook::testing::job::{Job, Reason, StaffRoll, read_jobs};
use rimbook::testing::judge::gate::{Compared, Context, Found, Surroundings, catalogue};
use rimbook::testing::judge::rules::carry::{Begun, begin};
use rimbook::testing::practice::Practice;
use serde_json::{Value, json};

pub fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// A value in tenths of a millimetre or degree.
pub fn mm(job: &Job, path: &str) -> Option<i32> {
    let value = job.value_at(path)?.as_f64()?;
    Some((value * 10.0).round() as i32)
}

/// The pair of the first scenario, collected, with its sides set since.
pub fn collected() -> Value {
    let mut job = scenario("S01")["job"].clone();
    job["past"] = json!(true);
    job["number"] = json!("1003");
    job["stage"] = json!("collected");
    job["fitting"]["taken_with"] = json!("pupil gauge");
    job["fitting"]["second_reading"] = json!({"right": {"height_mm": 19, "cd_mm": 31.5}});
    job["handover"] = json!({"given_by": "Hugo Penrith", "given_on": "2026-10-21",
        "right": {"height_mm": 18.5, "vertex_mm": 13, "length_to_bend_mm": 97},
        "left": {"height_mm": 19, "vertex_mm": 12, "length_to_bend_mm": 96}, "pantoscopic_deg": 8});
    job["aftercare"] = json!({"repairs": [
        {"on": "2026-11-02", "by": "Nadia Brookwell", "kind": "sides set", "right": {"length_to_bend_mm": 94}}]});
    job
}

pub fn old() -> Job {
    read_jobs(&collected().to_string()).unwrap().remove(0)
}

pub fn begun(old: &Job, reason: Reason, today: &str) -> Begun {
    begin(old, "1003", reason, day(today), &Practice::default()).unwrap()
}

pub fn findings(id: &str, job: &Job, today: &str) -> Vec<String> {
    let staff = StaffRoll::default();
    let practice = Practice::default();
    let around = Surroundings {
        sign_in: false,
        today: day(today),
        staff: &staff,
        practice: &practice,
        others: &[],
        questions: &[],
    };
    let check =
        catalogue::by_id(rimbook::testing::judge::gate::CheckId::from_word(id).unwrap()).unwrap();
    let mut list = Vec::new();
    let context = Context {
        job,
        around,
        acceptances: &[],
        compared: &Compared::default(),
    };
    (check.run)(
        &context,
        &mut Found::at(check.gate, check, &practice.thresholds, &mut list),
    );
    list.into_iter().map(|f| f.message).collect()
}
