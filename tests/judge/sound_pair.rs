//! What the checks say of a sound pair, measured, verified and handed over, after some changes.

use chrono::NaiveDate;
use rimbook::testing::job::{Gate, Job, Section, StaffRoll, read_jobs};
use rimbook::testing::judge::gate::{
    Acceptance, Finding, Passed, Severity, Surroundings, findings,
};
use rimbook::testing::practice::Practice;
use serde_json::Value;

/// An assistant.
pub const ASSISTANT: &str = "Nadia Brookwell";
/// A trainee, whose supervisor is [`OPTICIAN`].
pub const TRAINEE: &str = "Teo Marchbank";
/// A registered dispensing optician.
pub const OPTICIAN: &str = "Ines Calloway";
/// A registered optometrist.
pub const OPTOMETRIST: &str = "Hugo Penrith";

/// A change of a section.
pub type Change = (Section, Value);

fn scenario() -> Value {
    let all: Value = serde_json::from_str(include_str!("../data/scenarios.json")).unwrap();
    all["scenarios"][0].clone()
}

/// The people named above.
pub fn staff() -> StaffRoll {
    StaffRoll(serde_json::from_value(scenario()["staff"].clone()).unwrap())
}

/// The day of the pair.
pub fn today() -> NaiveDate {
    scenario()["today"].as_str().unwrap().parse().unwrap()
}

/// The pair after some changes.
pub fn pair(changes: &[Change]) -> Job {
    let scenario = scenario();
    let mut job = read_jobs(&scenario["job"].to_string()).unwrap().remove(0);
    for step in scenario["steps"].as_array().unwrap() {
        if step["do"] == "record" {
            let section = Section::from_word(step["section"].as_str().unwrap()).unwrap();
            job.record(section, &step["value"]).unwrap();
        }
    }
    for (section, change) in changes {
        job.record(*section, change).unwrap();
    }
    job
}

/// The pair after some changes, each with its section in words.
pub fn changed(changes: &[(&str, Value)]) -> Job {
    let changes: Vec<Change> = changes
        .iter()
        .map(|(section, change)| (Section::from_word(section).expect(section), change.clone()))
        .collect();
    pair(&changes)
}

/// The findings of a gate, by the practice's settings, with what was accepted and passed before.
pub fn found_in(
    practice: &Practice,
    job: &Job,
    gate: Gate,
    others: &[Job],
    (acceptances, passed): (&[Acceptance], &[Passed]),
) -> Vec<Finding> {
    let staff = staff();
    let around = Surroundings {
        sign_in: false,
        today: today(),
        staff: &staff,
        practice,
        others,
        questions: &[],
    };
    findings(gate, job, around, acceptances, passed)
}

/// The same by the settings that a practice begins with.
pub fn found_with(
    job: &Job,
    gate: Gate,
    others: &[Job],
    acceptances: &[Acceptance],
    passed: &[Passed],
) -> Vec<Finding> {
    let practice = Practice::default();
    found_in(&practice, job, gate, others, (acceptances, passed))
}

/// The findings of a gate.
pub fn found(job: &Job, gate: Gate) -> Vec<Finding> {
    found_with(job, gate, &[], &[], &[])
}

/// The findings of one check.
pub fn said(id: &str, gate: Gate, changes: &[Change]) -> Vec<Finding> {
    said_in(&Practice::default(), id, gate, changes)
}

/// The same where a practice has settings of its own.
pub fn said_in(practice: &Practice, id: &str, gate: Gate, changes: &[Change]) -> Vec<Finding> {
    found_in(practice, &pair(changes), gate, &[], (&[], &[]))
        .into_iter()
        .filter(|f| f.check == id)
        .collect()
}

/// The severities of the findings of one check.
pub fn severities(id: &str, gate: Gate, changes: &[Change]) -> Vec<Severity> {
    said(id, gate, changes).iter().map(|f| f.severity).collect()
}

/// A practice with one setting of its own.
pub fn practice_with(key: &str, value: &str) -> Practice {
    let mut practice = Practice::default();
    practice.set(key, value).unwrap();
    practice
}
