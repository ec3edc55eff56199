//! Several processes at one book: the real program, started several times at once.
//!
//! `tests/data/scenarios.json`: people, frames and laboratories are invented.

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};

use serde_json::{Value, json};
use tempfile::TempDir;

const PROCESSES: usize = 4;
const ROUNDS: usize = 3;

struct Practice {
    place: TempDir,
    scenario: Value,
}

impl Practice {
    fn begin() -> Self {
        let all: Value = serde_json::from_str(include_str!("../data/scenarios.json")).unwrap();
        let practice = Self {
            place: tempfile::tempdir().unwrap(),
            scenario: all["scenarios"][0].clone(),
        };
        for member in practice.scenario["staff"].as_array().unwrap() {
            let mut words = vec!["staff", "add"];
            for key in ["name", "role", "registration", "supervisor"] {
                if let Some(value) = member[key].as_str() {
                    words.extend([
                        match key {
                            "name" => "--name",
                            "role" => "--role",
                            "registration" => "--registration",
                            _ => "--supervisor",
                        },
                        value,
                    ]);
                }
            }
            practice.does(&words);
        }
        practice
    }

    fn start(&self, words: &[&str]) -> Child {
        Command::new(env!("CARGO_BIN_EXE_rimbook"))
            .arg("--json")
            .args(words)
            .env("RIMBOOK_DB", self.place.path().join("book.db"))
            .env("RIMBOOK_TODAY", self.scenario["today"].as_str().unwrap())
            .env("HOME", self.place.path())
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap()
    }

    fn does(&self, words: &[&str]) -> Value {
        let (status, said) = end(self.start(words));
        assert_eq!(status, 0, "{words:?}: {said}");
        said
    }

    fn file(&self, name: &str, content: &Value) -> PathBuf {
        let path = self.place.path().join(name);
        std::fs::write(&path, content.to_string()).unwrap();
        path
    }
}

/// Waits for a process; returns its exit status and what it answered.
fn end(child: Child) -> (i32, Value) {
    let output = child.wait_with_output().unwrap();
    let said = serde_json::from_slice(&output.stdout).unwrap_or_else(|_| {
        json!(String::from_utf8_lossy(
            &[output.stdout, output.stderr].concat()
        ))
    });
    (output.status.code().unwrap(), said)
}

#[test]
fn what_several_processes_were_told_is_kept_is_in_the_book_afterwards() {
    let practice = Practice::begin();
    let job = practice.scenario["job"].clone();
    let jobs = practice.file("jobs.json", &json!([job, job]));
    let mut acknowledged: Vec<String> = Vec::new();
    let mut references: Vec<(String, String)> = Vec::new();
    for round in 0..ROUNDS {
        // Each round takes jobs in while the jobs of the round before are changed.
        let imports: Vec<Child> = (0..PROCESSES)
            .map(|_| practice.start(&["import", jobs.to_str().unwrap()]))
            .collect();
        let records: Vec<(String, String, Child)> = acknowledged
            .iter()
            .rev()
            .take(PROCESSES)
            .map(|number| {
                let reference = format!("ref {round} {number}");
                let name = format!("{round}-{number}.json");
                let file = practice.file(&name, &json!({"reference": reference}));
                let words = ["record", number, "order", file.to_str().unwrap()];
                (number.clone(), reference, practice.start(&words))
            })
            .collect();
        for import in imports {
            let (status, said) = end(import);
            assert_eq!(status, 0, "{said}");
            let numbers = said["numbers"].as_array().unwrap();
            acknowledged.extend(numbers.iter().map(|n| n.as_str().unwrap().to_owned()));
        }
        for (number, reference, record) in records {
            let (status, said) = end(record);
            assert_eq!(status, 0, "{said}");
            references.push((number, reference));
        }
    }
    let distinct: BTreeSet<&String> = acknowledged.iter().collect();
    assert_eq!(distinct.len(), 2 * PROCESSES * ROUNDS, "no number twice");
    let kept = practice.does(&["export", "--all"]);
    let kept = kept.as_array().unwrap();
    assert_eq!(kept.len(), distinct.len());
    for (number, reference) in &references {
        let job = kept.iter().find(|j| j["number"] == **number).unwrap();
        assert_eq!(job["order"]["reference"], **reference);
        let events = job["history"].as_array().unwrap();
        assert_eq!(events.len(), 2, "taken in and recorded once each");
    }
    assert_eq!(references.len(), PROCESSES * (ROUNDS - 1));
}

#[test]
fn of_two_processes_that_move_the_same_job_exactly_one_does() {
    let practice = Practice::begin();
    let mut job = practice.scenario["job"].clone();
    for round in 0..ROUNDS {
        // Another wearer each time: a second pair for the same one is held.
        job["wearer"]["name"] = json!(format!("Wearer {round}"));
        let job = practice.file("job.json", &job);
        let taken = practice.does(&["import", job.to_str().unwrap()]);
        let number = taken["numbers"][0].as_str().unwrap().to_owned();
        let words = [
            "advance",
            &number,
            "--to",
            "ordered",
            "--as",
            "Ines Calloway",
        ];
        let both = [practice.start(&words), practice.start(&words)];
        let mut statuses = both.map(|child| end(child).0);
        statuses.sort_unstable();
        assert_eq!(statuses, [0, 1], "one moves, the other finds it moved");
        let shown = practice.does(&["show", &number]);
        let moves = shown["history"].as_array().unwrap();
        assert_eq!(moves.iter().filter(|e| e["what"] == "moved").count(), 1);
        assert_eq!(shown["stage"], "ordered");
    }
}
