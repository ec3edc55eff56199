//! A day that no job of today can have is refused, in a file and in a change, and nothing is changed.

use rimbook::testing::job::{Job, Section, read_jobs};
use serde_json::json;

fn with_birth(born: &str) -> String {
    json!({
        "format": "rimbook-job", "version": 1,
        "wearer": {"name": "Una Merrowby", "born": born},
    })
    .to_string()
}

#[test]
fn a_job_file_with_a_day_of_another_age_is_refused_by_its_place() {
    for born in [
        "-200000-01-01",
        "0000-01-01",
        "1849-12-31",
        "2200-01-01",
        "+12026-01-01",
    ] {
        let error = read_jobs(&with_birth(born)).unwrap_err().to_string();
        assert!(error.contains("wearer.born"), "{born}: {error}");
    }
    for born in ["1850-01-01", "2026-12-01"] {
        read_jobs(&with_birth(born)).unwrap();
    }
}

#[test]
fn a_change_with_such_a_day_changes_nothing() {
    let mut job = Job::default();
    job.wearer.name = Some("Una Merrowby".to_owned());
    let before = job.clone();
    for (section, change) in [
        (Section::Wearer, json!({"born": "0001-01-01"})),
        (Section::Job, json!({"collection_at": "12026-01-01T15:30"})),
        (Section::Order, json!({"due_on": "1026-01-01"})),
    ] {
        assert!(job.record(section, &change).is_err(), "{change}");
        assert_eq!(job, before);
    }
}
