//! Review, erasure and access as a script meets them: the real program, its answers, its files.

use std::process::{Command, Stdio};

use serde_json::{Value, json};
use tempfile::TempDir;

struct Practice(TempDir);

/// Exit status, standard output, standard error.
type Said = (i32, String, String);

impl Practice {
    /// A book with one optician, one assistant and two past jobs of one wearer.
    fn with_a_wearer() -> Self {
        let practice = Self(tempfile::tempdir().unwrap());
        practice.does(&[
            "staff",
            "add",
            "--name",
            "Ines Calloway",
            "--role",
            "dispensing optician",
            "--registration",
            "R2041",
        ]);
        let job = |given: &str, frame: &str| {
            json!({"format": "rimbook-job", "version": 1, "past": true,
                   "wearer": {"name": "Wanda Holt", "born": "1970-05-01", "phone": "07700 900123",
                              "notes": "line one\nline\u{1b}[31m two", "allergies": ["nickel"]},
                   "frame": {"name": frame, "a_mm": 50}, "handover": {"given_on": given}})
        };
        let jobs = json!([
            job("2009-03-01", "Fernley 50"),
            job("2012-03-01", "Sprout 42")
        ]);
        std::fs::write(practice.0.path().join("jobs.json"), jobs.to_string()).unwrap();
        practice.does(&["import", "jobs.json"]);
        practice
    }

    fn run(&self, arguments: &[&str]) -> Said {
        let output = Command::new(env!("CARGO_BIN_EXE_rimbook"))
            .args(arguments)
            .env("RIMBOOK_DB", self.0.path().join("book.db"))
            .env("RIMBOOK_TODAY", "2026-10-12")
            .env("HOME", self.0.path())
            .env_remove("XDG_DATA_HOME")
            .current_dir(self.0.path())
            .stdin(Stdio::null())
            .output()
            .unwrap();
        (
            output.status.code().unwrap(),
            String::from_utf8(output.stdout).unwrap(),
            String::from_utf8(output.stderr).unwrap(),
        )
    }

    fn does(&self, arguments: &[&str]) -> Value {
        let mut all = vec!["--json"];
        all.extend(arguments);
        let (status, out, err) = self.run(&all);
        assert_eq!(status, 0, "{arguments:?}: {out} {err}");
        serde_json::from_str(&out).unwrap()
    }

    fn file(&self, name: &str) -> String {
        std::fs::read_to_string(self.0.path().join(name)).unwrap()
    }
}

const OPTICIAN: [&str; 2] = ["--as", "Ines Calloway"];
const WHY: [&str; 2] = ["--reason", "reviewed, nothing requires keeping it"];

#[test]
fn what_is_due_is_listed_with_its_reason_and_the_rule_is_set_by_name() {
    let practice = Practice::with_a_wearer();
    let answer = practice.does(&["retention"]);
    assert_eq!(
        answer["rule"],
        json!({"adult_years": 10, "child_until_age": 25})
    );
    let due = &answer["due"][0];
    assert_eq!(due["numbers"], json!(["1001", "1002"]));
    assert_eq!(due["last_seen"], "2012-03-01");
    assert_eq!(due["due_on"], "2022-03-01");
    assert_eq!(due["rule"], "adult");
    let (status, out, err) = practice.run(&["retention"]);
    assert_eq!(status, 0);
    assert!(
        out.contains(
            "1001 1002  Wanda Holt, born 1970-05-01, last seen 2012-03-01, due since 2022-03-01"
        ),
        "{out}"
    );
    assert!(err.contains("Nothing is erased by itself"), "{err}");
    assert_eq!(
        practice.does(&["retention", "--on", "2022-02-28"])["due"],
        json!([])
    );
    assert_eq!(
        practice.run(&["retention", "--adult-years", "15"]).0,
        2,
        "by nobody"
    );
    let mut set = vec!["retention", "--adult-years", "15"];
    set.extend(OPTICIAN);
    assert_eq!(practice.does(&set)["due"], json!([]));
}

#[test]
fn erasing_needs_the_number_again_and_leaves_no_trace_in_any_listing() {
    let practice = Practice::with_a_wearer();
    let erase = |rest: &[&str]| {
        let mut all = vec!["--json", "erase", "1001", "--wearer"];
        all.extend(OPTICIAN);
        all.extend(WHY);
        all.extend(rest);
        practice.run(&all)
    };
    let (status, out, _) = erase(&[]);
    assert_eq!(status, 2, "no terminal to ask at: {out}");
    let (status, out, _) = erase(&["--confirm", "1002"]);
    assert_eq!(status, 1, "{out}");
    assert_eq!(
        practice.does(&["find", "Holt"]).as_array().unwrap().len(),
        2
    );
    let (status, out, err) = erase(&["--confirm", "1001"]);
    assert_eq!(status, 0, "{out} {err}");
    let answer: Value = serde_json::from_str(&out).unwrap();
    assert_eq!(answer["erased"]["numbers"], json!(["1001", "1002"]));
    assert_eq!(answer["erased"]["swept"], true);
    assert!(err.contains("Backups made before"), "{err}");
    assert!(
        !err.contains("Holt") && !out.contains("Holt"),
        "{out} {err}"
    );
    assert_eq!(practice.does(&["find", "Holt"]), json!([]));
    assert_eq!(practice.does(&["export", "--all"]), json!([]));
    assert_eq!(practice.run(&["show", "1001"]).0, 1);
    let told = practice.does(&["retention", "--erased"]);
    assert_eq!(told[1]["detail"]["number"], "1002");
    assert_eq!(told[1]["by"], "Ines Calloway");
    assert!(practice.run(&["retention", "--erased"]).1.contains(WHY[1]));
    assert_eq!(practice.does(&["erase", "--sweep"]), json!({"ok": true}));
}

#[test]
fn a_wearer_is_given_everything_in_a_file_of_their_own() {
    let practice = Practice::with_a_wearer();
    let change = json!({"colour": "grey"}).to_string();
    std::fs::write(practice.0.path().join("frame.json"), change).unwrap();
    practice.does(&[
        "record",
        "1001",
        "frame",
        "frame.json",
        "--as",
        "Ines Calloway",
    ]);
    let ask = |out: &str, form: &str, name: &str| {
        practice.run(&[
            "--json",
            "access",
            "--name",
            name,
            "--born",
            "1970-05-01",
            "--out",
            out,
            "--format",
            form,
            "--as",
            "Ines Calloway",
        ])
    };
    let (status, out, err) = ask("record.md", "text", "wanda  holt");
    assert_eq!(status, 0, "{out} {err}");
    let page = practice.file("record.md");
    for line in [
        "## Job 1001: collected",
        "## Job 1002: collected",
        "- phone: 07700 900123",
        "- allergies: nickel",
        "- notes: line one line[31m two",
        "- 2, what: recorded",
        "- 2, by: Ines Calloway",
        "- 2, detail, change, colour: grey",
        "- 1, detail, job, frame, name: Sprout 42",
    ] {
        assert!(page.lines().any(|l| l == line), "{line}: {page}");
    }
    assert!(!page.contains('\u{1b}'));
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let mode = std::fs::metadata(practice.0.path().join("record.md")).unwrap();
        assert_eq!(mode.permissions().mode() & 0o777, 0o600);
    }
    let (status, out, _) = ask("record.md", "text", "Wanda Holt");
    assert_eq!(status, 1, "no file is replaced: {out}");
    assert_eq!(practice.file("record.md"), page);
    assert_eq!(ask("record.json", "json", "Wanda Holt").0, 0);
    let record: Value = serde_json::from_str(&practice.file("record.json")).unwrap();
    let history = record["jobs"][0]["history"].as_array().unwrap();
    let told: Vec<&str> = history
        .iter()
        .map(|e| e["what"].as_str().unwrap())
        .collect();
    assert_eq!(
        told,
        ["imported", "recorded", "access given", "access given"]
    );
    assert_eq!(history[2]["detail"], json!({"day_fixed_to": "2026-10-12"}));
    let (status, out, _) = ask("nobody.json", "json", "Wanda");
    assert_eq!(status, 1);
    assert!(!out.contains("Wanda"), "{out}");
    assert!(!practice.0.path().join("nobody.json").exists());
}

#[test]
fn an_export_carries_the_history() {
    let practice = Practice::with_a_wearer();
    let exported = practice.does(&["export", "1001"]);
    assert_eq!(exported["history"][0]["what"], "imported");
    assert_eq!(
        exported["history"][0]["detail"]["job"]["frame"]["name"],
        "Fernley 50"
    );
    let all = practice.does(&["export", "--all", "--format", "json"]);
    assert!(
        all.as_array()
            .unwrap()
            .iter()
            .all(|j| j["history"][0]["at"].is_string())
    );
}
