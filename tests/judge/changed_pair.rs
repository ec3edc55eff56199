//! What one check says of a sound pair after some changes.

use chrono::NaiveDate;
use rimbook::testing::job::{Gate, Job, Section, StaffRoll, read_jobs};
use rimbook::testing::judge::gate::{Finding, Surroundings, findings};
use rimbook::testing::practice::Practice;
use serde_json::Value;

/// The findings of one check, of a single vision pair of which sections have been changed, on
/// 2026-10-12.
pub fn said(id: &str, gate: Gate, changes: &[(Section, Value)]) -> Vec<Finding> {
    said_by(&Practice::default(), id, gate, changes)
}

/// The same in a practice with thresholds of its own.
pub fn said_by(
    practice: &Practice,
    id: &str,
    gate: Gate,
    changes: &[(Section, Value)],
) -> Vec<Finding> {
    let all: Value = serde_json::from_str(include_str!("../data/scenarios.json")).unwrap();
    let mut job: Job = read_jobs(&all["scenarios"][0]["job"].to_string())
        .unwrap()
        .remove(0);
    for (section, change) in changes {
        job.record(*section, change).unwrap();
    }
    let around = Surroundings {
        today: NaiveDate::from_ymd_opt(2026, 10, 12).unwrap(),
        staff: &StaffRoll::default(),
        practice,
        others: &[],
        questions: &[],
    };
    findings(gate, &job, around, &[], &[])
        .into_iter()
        .filter(|f| f.check == id)
        .collect()
}
