//! Runs the checks of one gate many times, for a profiler: `gate_once GATE TIMES`.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::print_stdout,
    missing_docs,
    reason = "a harness for people"
)]

use std::hint::black_box;

use chrono::NaiveDate;
use rimbook::testing::job::{Gate, Job, Section, StaffRoll, read_jobs};
use rimbook::testing::judge::gate::{Surroundings, findings};
use rimbook::testing::practice::Practice;
use serde_json::{Value, json};

fn main() {
    let mut words = std::env::args().skip(1).filter(|a| !a.starts_with("--"));
    let gate = words
        .next()
        .and_then(|w| Gate::from_word(&w))
        .unwrap_or(Gate::Ordered);
    let times: u32 = words.next().and_then(|w| w.parse().ok()).unwrap_or(1000);
    let all: Value = serde_json::from_str(include_str!("../tests/data/scenarios.json")).unwrap();
    let scenario = &all["scenarios"][0];
    let mut job: Job = read_jobs(&scenario["job"].to_string()).unwrap().remove(0);
    for step in scenario["steps"].as_array().unwrap() {
        if step["do"] == "record" {
            let section = Section::from_word(step["section"].as_str().unwrap()).unwrap();
            job.record(section, &step["value"]).unwrap();
        }
    }
    let tilt = json!({"pantoscopic_deg": 9, "face_form_deg": 8});
    job.record(Section::Fitting, &tilt).unwrap();
    let staff = StaffRoll(serde_json::from_value(scenario["staff"].clone()).unwrap());
    let today: NaiveDate = scenario["today"].as_str().unwrap().parse().unwrap();
    let practice = Practice::default();
    let around = Surroundings {
        sign_in: false,
        today,
        staff: &staff,
        practice: &practice,
        others: &[],
        questions: &[],
    };
    let began = std::time::Instant::now();
    for _ in 0..times {
        black_box(findings(gate, black_box(&job), around, &[], &[]));
    }
    println!(
        "{gate}: {:.2} us",
        began.elapsed().as_secs_f64() * 1e6 / f64::from(times)
    );
}
