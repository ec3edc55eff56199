//! The command line as a script meets it: the real program, its answers and its exit statuses.
//!
//! `tests/data/scenarios.json`: expectations worked out by an independent evaluator; people, frames
//! and laboratories are invented.

use std::io::Write;
use std::process::{Command, Stdio};

use crate::scenarios::begun;
use serde_json::{Value, json};
use tempfile::TempDir;

/// What the program said.
pub(crate) struct Said {
    pub(crate) status: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Said {
    pub(crate) fn json(&self) -> Value {
        serde_json::from_str(&self.out)
            .unwrap_or_else(|e| panic!("{e}: {:?} {:?}", self.out, self.err))
    }
}

/// A practice with a book of its own.
pub(crate) struct Practice {
    pub(crate) place: TempDir,
    today: String,
}

impl Practice {
    pub(crate) fn on(today: &str) -> Self {
        Self {
            place: tempfile::tempdir().unwrap(),
            today: today.to_owned(),
        }
    }

    fn run_with(&self, arguments: &[&str], input: &[u8]) -> Said {
        let mut child = Command::new(env!("CARGO_BIN_EXE_rimbook"))
            .args(arguments)
            .env("RIMBOOK_DB", self.place.path().join("book.db"))
            .env("RIMBOOK_TODAY", &self.today)
            .env("HOME", self.place.path())
            .env_remove("XDG_DATA_HOME")
            .current_dir(self.place.path())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut stdin = child.stdin.take().unwrap();
        let input = input.to_vec();
        let writer = std::thread::spawn(move || drop(stdin.write_all(&input)));
        let output = child.wait_with_output().unwrap();
        writer.join().unwrap();
        Said {
            status: output.status.code().unwrap(),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }

    pub(crate) fn run(&self, arguments: &[&str]) -> Said {
        self.run_with(arguments, b"")
    }

    /// Runs a command that must succeed and returns its JSON.
    pub(crate) fn does(&self, arguments: &[&str]) -> Value {
        let mut all = vec!["--json"];
        all.extend(arguments);
        let said = self.run(&all);
        assert_eq!(said.status, 0, "{arguments:?}: {} {}", said.out, said.err);
        said.json()
    }

    pub(crate) fn adds(&self, member: &Value) -> Said {
        let text = |key: &str| member[key].as_str();
        let mut arguments = vec!["--json", "staff", "add", "--name", text("name").unwrap()];
        arguments.extend(["--role", text("role").unwrap()]);
        for (key, option) in [
            ("registration", "--registration"),
            ("supervisor", "--supervisor"),
        ] {
            if let Some(value) = text(key) {
                arguments.extend([option, value]);
            }
        }
        self.run(&arguments)
    }

    pub(crate) fn hires(&self, member: &Value) {
        let said = self.adds(member);
        assert_eq!(said.json(), json!({"ok": true, "name": member["name"]}));
    }

    /// Imports a job, or an array of them, and returns their numbers.
    pub(crate) fn imports_all(&self, jobs: &Value) -> Vec<String> {
        std::fs::write(self.place.path().join("job.json"), jobs.to_string()).unwrap();
        let answer = self.does(&["import", "job.json"]);
        let numbers = answer["numbers"].as_array().unwrap();
        numbers
            .iter()
            .map(|n| n.as_str().unwrap().to_owned())
            .collect()
    }

    fn imports(&self, job: &Value) -> String {
        self.imports_all(job).remove(0)
    }

    pub(crate) fn records(&self, number: &str, section: &str, value: &Value) -> Said {
        self.run_with(
            &["--json", "record", number, section, "-"],
            value.to_string().as_bytes(),
        )
    }
}

/// The practice and the job of a scenario, nothing played yet.
fn practice_with(scenario: &Value) -> (Practice, String) {
    let (practice, mut numbers) = begun(scenario);
    (practice, numbers.remove(0))
}

pub(crate) fn scenarios() -> Vec<Value> {
    let all: Value = serde_json::from_str(include_str!("../data/scenarios.json")).unwrap();
    all["scenarios"].as_array().unwrap().clone()
}

#[test]
fn a_shown_job_is_a_job_file_with_its_stage_and_history() {
    let scenario = &scenarios()[0];
    let (practice, number) = practice_with(scenario);
    let shown = practice.does(&["show", &number]);
    assert_eq!(shown["format"], "rimbook-job");
    assert_eq!(shown["number"], number);
    assert_eq!(shown["stage"], "measured");
    assert_eq!(shown["accepted"], json!([]));
    assert_eq!(shown["history"][0]["what"], "imported");
    assert_eq!(
        shown["prescription"]["right"],
        scenario["job"]["prescription"]["right"]
    );
    let listed = practice.does(&["list", "--stage", "measured"]);
    assert_eq!(listed[0]["number"], number);
    for key in [
        "past",
        "born",
        "due_on",
        "promised_on",
        "collection_at",
        "late",
        "held",
    ] {
        assert!(listed[0].get(key).is_some(), "{key}");
    }
    let found = practice.does(&["find", "thorncroft"]);
    assert_eq!(found[0]["wearer"], "Maribel Thorncroft");
    let text = practice.run(&["show", &number]);
    assert!(
        text.out.contains("Maribel Thorncroft") && text.out.contains("31.5"),
        "{}",
        text.out
    );
    assert!(!text.out.contains("   "), "one thing a line: {}", text.out);
    assert!(practice.does(&["check", "--all"])[0]["findings"].is_array());
}

#[test]
fn an_exported_job_is_imported_again_and_nothing_is_replaced() {
    let (practice, number) = practice_with(&scenarios()[0]);
    let said = practice.run(&["export", &number, "--out", "out.json"]);
    assert_eq!(said.status, 0, "{}", said.err);
    let again = practice.run(&["export", &number, "--out", "out.json"]);
    assert_eq!(again.status, 1);
    assert!(again.err.contains("exists already"), "{}", again.err);
    let table = practice.run(&["export", "--all", "--format", "csv"]);
    assert_eq!(table.status, 0, "{}", table.err);
    let unknown = practice.run(&["export", "--all", "--format", "a-format"]);
    assert_eq!(unknown.status, 2, "{}", unknown.err);
    let other = Practice::on("2026-10-12");
    let file = practice.place.path().join("out.json");
    let answer = other.does(&["import", file.to_str().unwrap()]);
    assert_eq!(answer["numbers"].as_array().unwrap().len(), 1);
}

#[test]
fn failures_are_told_in_json_and_by_the_exit_status() {
    let (practice, number) = practice_with(&scenarios()[0]);
    let cases: &[(&[&str], i32, &str)] = &[
        (&["show", "no-such-number"], 1, "not_found"),
        (&["advance", &number, "--to", "collected"], 2, "usage"),
        (
            &[
                "advance",
                &number,
                "--to",
                "nowhere",
                "--as",
                "Ines Calloway",
            ],
            2,
            "usage",
        ),
        (&["frobnicate"], 2, "usage"),
        (&["import", "no-such-file.json"], 1, "file"),
        (&[], 2, "usage"),
    ];
    for (arguments, status, kind) in cases {
        let mut all = vec!["--json"];
        all.extend(*arguments);
        let said = practice.run(&all);
        assert_eq!(said.status, *status, "{arguments:?}: {}", said.out);
        let error = &said.json()["error"];
        assert_eq!(error["kind"], *kind, "{arguments:?}");
        assert!(!error["message"].as_str().unwrap().is_empty());
        assert!(error["hints"].is_array());
        let plain = practice.run(arguments);
        if !arguments.is_empty() {
            assert_eq!(plain.status, *status, "{arguments:?}");
            assert_eq!(plain.out, "", "{arguments:?}");
            assert!(!plain.err.is_empty(), "{arguments:?}");
        }
    }
    let bad = practice.run_with(&["--json", "record", &number, "wearer", "-"], b"{\"name\":");
    assert_eq!(
        (bad.status, bad.json()["error"]["kind"].as_str()),
        (1, Some("input"))
    );
    let unknown = practice.records(&number, "fitting", &json!({"no_such_key": 1}));
    assert_eq!(unknown.status, 1);
}

#[test]
fn a_file_that_fails_says_what_went_in_before_it() {
    let (practice, _) = practice_with(&scenarios()[0]);
    std::fs::write(practice.place.path().join("bad.json"), "[]").unwrap();
    let said = practice.run(&["--json", "import", "job.json", "bad.json"]);
    assert_eq!(said.status, 1);
    let listed = practice.does(&["list"]);
    assert_eq!(listed.as_array().unwrap().len(), 2);
    let hints = said.json()["error"]["hints"].to_string();
    let numbers: Vec<_> = listed
        .as_array()
        .unwrap()
        .iter()
        .map(|j| j["number"].as_str().unwrap())
        .collect();
    assert!(numbers.iter().any(|n| hints.contains(n)), "{hints}");
}

#[test]
fn control_characters_of_a_name_never_reach_the_terminal() {
    let mut job = scenarios()[0]["job"].clone();
    job["wearer"]["name"] = "Ada\u{1b}[2J\u{9b}31m\u{202e}\u{7f}\nQuill".into();
    job["frame"]["name"] = "Fern\u{1b}]0;x\u{7}ley\u{85}".into();
    let practice = Practice::on("2026-10-12");
    let number = practice.imports(&job);
    let member = json!({"name": "Eve\u{9b}1m\u{202e}", "role": "assistant"});
    std::fs::write(practice.place.path().join("bad\u{1b}[1m.json"), "{").unwrap();
    let added = practice.run(&[
        "staff",
        "add",
        "--name",
        member["name"].as_str().unwrap(),
        "--role",
        "assistant",
    ]);
    // Whether such a name is taken is the desk's to say; it is never drawn.
    assert!(!added.out.contains('\u{9b}') && !added.err.contains('\u{9b}'));
    for arguments in [
        vec!["show", &number],
        vec!["list"],
        vec!["find", "quill"],
        vec!["check", &number],
        vec!["export", &number],
        vec!["staff", "list"],
        vec!["import", "bad\u{1b}[1m.json"],
        vec!["show", "\u{1b}[1m\u{9b}"],
        vec!["list", "--stage", "\u{1b}[1m\u{9b}"],
    ] {
        for json in [false, true] {
            let mut all = arguments.clone();
            if json {
                all.push("--json");
            }
            let said = practice.run(&all);
            for text in [&said.out, &said.err] {
                let bad = |c: char| (c.is_control() && c != '\n') || c == '\u{202e}';
                assert!(!text.contains(bad), "{all:?}: {text:?}");
            }
        }
    }
    assert_eq!(
        practice.does(&["show", &number])["wearer"]["name"],
        job["wearer"]["name"]
    );
}

#[test]
fn the_day_is_the_one_that_is_fixed_and_no_other_word_is_taken_for_one() {
    let scenario = &scenarios()[0];
    let (mut practice, number) = practice_with(scenario);
    let at = practice.does(&["show", &number])["history"][0]["at"].clone();
    assert!(at.as_str().unwrap().starts_with("2026-10-12"), "{at}");
    practice.today = "2026-13-45".to_owned();
    let said = practice.run(&["--json", "list"]);
    assert_eq!(
        (said.status, said.json()["error"]["kind"].as_str()),
        (2, Some("usage"))
    );
    assert!(said.out.contains("RIMBOOK_TODAY"));
}

#[test]
fn calculations_and_prescriptions_are_answered_line_by_line() {
    let practice = Practice::on("2026-10-12");
    let said = practice.run_with(
        &["calc"],
        b"{\"id\":1,\"calc\":\"transpose\",\"form\":\"plus\",\"rx\":{\"sphere_d\":-2,\"cylinder_d\":-1,\"axis_deg\":90}}\n\nnonsense\n",
    );
    assert_eq!(said.status, 0);
    let lines: Vec<Value> = said
        .out
        .lines()
        .map(|l| serde_json::from_str(l).unwrap())
        .collect();
    assert_eq!(lines.len(), 2);
    assert_eq!(
        (&lines[0]["ok"], &lines[0]["id"]),
        (&json!(true), &json!(1))
    );
    assert_eq!(lines[1]["ok"], false);

    let said = practice.run_with(&["rx"], b"-2.25/-0.75x90\n\n\xff\nplano\r\n");
    assert_eq!(said.status, 0);
    let lines: Vec<Value> = said
        .out
        .lines()
        .map(|l| serde_json::from_str(l).unwrap())
        .collect();
    assert_eq!(lines.len(), 4, "one answer a line: {}", said.out);
    assert!(lines.iter().all(|l| l["ok"].is_boolean()));
    assert_eq!(lines[1]["error"]["kind"], "empty");
    assert_eq!(lines[0]["ok"], true);
    assert_eq!(lines[0]["rx"]["sphere_d"], json!(-2.25), "{}", lines[0]);
    assert_eq!(lines[1]["ok"], false);
}

#[test]
fn an_invented_practice_replaces_no_file() {
    let practice = Practice::on("2026-10-12");
    std::fs::write(practice.place.path().join("there.db"), "mine").unwrap();
    let said = practice.run(&["--json", "demo", "--no-open", "--into", "there.db"]);
    assert_eq!(said.status, 1);
    assert_eq!(said.json()["error"]["kind"], "file");
    assert_eq!(
        std::fs::read_to_string(practice.place.path().join("there.db")).unwrap(),
        "mine"
    );
}

#[test]
fn an_invented_practice_is_built_into_a_fresh_file_and_listed_from_there() {
    let practice = Practice::on("2026-10-12");
    let answer = practice.does(&["demo", "--no-open", "--into", "fresh.db"]);
    assert_eq!(answer["file"], "fresh.db");
    let jobs = practice.does(&["--db", "fresh.db", "export", "--all"]);
    assert_eq!(jobs.as_array().unwrap().len() as u64, answer["jobs"]);
    assert!(jobs.as_array().unwrap().len() > 3);
}

/// A file that only its owner can read.
#[cfg(unix)]
pub(crate) fn pin_file(practice: &Practice, name: &str, pin: &str, mode: u32) -> String {
    use std::os::unix::fs::PermissionsExt;
    let path = practice.place.path().join(name);
    std::fs::write(&path, format!("{pin}\n")).unwrap();
    std::fs::set_permissions(&path, std::fs::Permissions::from_mode(mode)).unwrap();
    path.to_str().unwrap().to_owned()
}

#[cfg(unix)]
#[test]
fn where_people_sign_in_a_name_is_not_enough_for_a_script_either() {
    let practice = Practice::on("2026-10-12");
    for (name, role, number) in [
        ("Ines Calloway", "dispensing optician", Some("R2041")),
        ("Kit Marlow", "assistant", None),
    ] {
        let mut words = vec!["staff", "add", "--name", name, "--role", role];
        words.extend(number.into_iter().flat_map(|n| ["--registration", n]));
        practice.does(&words);
    }
    let ines = pin_file(&practice, "ines", "4710", 0o600);
    let kit = pin_file(&practice, "kit", "8253", 0o600);
    let open = pin_file(&practice, "open", "4710", 0o644);
    for (name, file) in [("Ines Calloway", &ines), ("Kit Marlow", &kit)] {
        practice.does(&["staff", "secret", "--name", name, "--pin-file", file]);
    }
    let refused = practice.run(&["staff", "sign-in", "on", "--as", "Kit Marlow"]);
    assert_eq!(refused.status, 1);
    assert!(
        refused.err.contains("dispensing optician"),
        "{}",
        refused.err
    );
    let on = practice.does(&[
        "staff",
        "sign-in",
        "on",
        "--idle",
        "3",
        "--as",
        "Ines Calloway",
    ]);
    assert_eq!(on, json!({"sign_in": true, "idle_minutes": 3}));

    let job = practice.place.path().join("job.json");
    std::fs::write(
        &job,
        json!({"format": "rimbook-job", "version": 1, "wearer": {"name": "Wanda Holt"}})
            .to_string(),
    )
    .unwrap();
    let job = job.to_str().unwrap();
    for (arguments, says) in [
        (vec!["import", job], "signed in"),
        (vec!["import", job, "--as", "Ines Calloway"], "no terminal"),
        (
            vec!["import", job, "--as", "Ines Calloway", "--pin-file", &open],
            "chmod 600",
        ),
        (
            vec!["import", job, "--as", "Ines Calloway", "--pin-file", &kit],
            "not right",
        ),
        (
            vec!["import", job, "--as", "Kit Marlow", "--pin-file", "nowhere"],
            "cannot be read",
        ),
    ] {
        let said = practice.run(&arguments);
        assert_ne!(said.status, 0, "{arguments:?}");
        assert!(said.err.contains(says), "{arguments:?}: {}", said.err);
    }
    let taken = practice.does(&["import", job, "--as", "Ines Calloway", "--pin-file", &ines]);
    assert_eq!(taken, json!({"numbers": ["1001"]}));
    let cancelled = practice.does(&[
        "cancel",
        "1001",
        "--as",
        "Kit Marlow",
        "--reason",
        "moved away",
        "--pin-file",
        &kit,
    ]);
    assert_eq!(cancelled["stage"], "cancelled");
}
