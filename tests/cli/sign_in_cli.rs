//! What a script may do, and in whose name, where everybody signs in.

#![allow(clippy::disallowed_methods, reason = "tests look into the file")]

use crate::cli::{Practice, pin_file};
use serde_json::json;

const OPTICIAN: &str = "Ines Calloway";
const ASSISTANT: &str = "Kit Marlow";

const TURN_ON: [&str; 5] = ["staff", "sign-in", "on", "--as", OPTICIAN];

/// A practice whose people have PINs and do not sign in yet, with the files of two PINs.
fn people() -> (Practice, String, String) {
    let practice = Practice::on("2026-10-12");
    practice.does(&[
        "staff",
        "add",
        "--name",
        OPTICIAN,
        "--role",
        "dispensing optician",
        "--registration",
        "R2041",
    ]);
    practice.does(&["staff", "add", "--name", ASSISTANT, "--role", "assistant"]);
    let ines = pin_file(&practice, "ines", "4710", 0o600);
    let kit = pin_file(&practice, "kit", "8253", 0o600);
    for (name, file) in [(OPTICIAN, &ines), (ASSISTANT, &kit)] {
        practice.does(&["staff", "secret", "--name", name, "--pin-file", file]);
    }
    (practice, ines, kit)
}

/// A practice in which everybody signs in, with the files of two PINs.
fn practice() -> (Practice, String, String) {
    let (practice, ines, kit) = people();
    practice.does(&[&TURN_ON[..], &["--pin-file", &ines]].concat());
    (practice, ines, kit)
}

/// Imports a job whose measurements are said to be the optician's, as the assistant.
fn import(practice: &Practice, kit: &str) {
    let job = practice.place.path().join("job.json");
    let job_file = json!({
        "format": "rimbook-job", "version": 1, "wearer": {"name": "Wanda Holt"},
        "fitting": {"taken_by": OPTICIAN, "right": {"cd_mm": 31.5}},
    });
    std::fs::write(&job, job_file.to_string()).unwrap();
    let job = job.to_str().unwrap();
    practice.does(&["import", job, "--as", ASSISTANT, "--pin-file", kit]);
}

#[test]
fn a_name_that_was_typed_by_another_is_confirmed_by_its_owner_with_the_pin() {
    let (practice, ines, kit) = practice();
    import(&practice, &kit);
    let unsigned = || {
        let said = practice.run(&["--json", "check", "1001"]).json();
        let findings = said["findings"].as_array().unwrap();
        findings.iter().any(|f| {
            f["check"] == "unsigned"
                && f["severity"] == "stop"
                && f["accept"] == "nobody"
                && f["values"]["field"] == "fitting.taken_by"
                && f["values"]["typed_by"] == ASSISTANT
        })
    };
    assert!(unsigned());
    for (by, file) in [(OPTICIAN, &kit), (ASSISTANT, &kit)] {
        let said = practice.run(&["confirm", "1001", "--as", by, "--pin-file", file]);
        assert_eq!(said.status, 1, "{by}: {}", said.err);
    }
    assert!(unsigned());
    let other = ["confirm", "1001", "handover.given_by", "--as", OPTICIAN];
    let said = practice.run(&[&other[..], &["--pin-file", &ines]].concat());
    assert!(said.err.contains("does not wait"), "{}", said.err);
    let confirmed = practice.does(&[
        "confirm",
        "1001",
        "fitting.taken_by",
        "--as",
        OPTICIAN,
        "--pin-file",
        &ines,
    ]);
    assert_eq!(
        confirmed,
        json!({"ok": true, "number": "1001", "stage": "measured"})
    );
    assert!(!unsigned());
}

/// Runs the program as if it were started in another zone.
fn in_zone(practice: &Practice, zone: &str, arguments: &[&str]) -> String {
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_rimbook"))
        .args(arguments)
        .env("RIMBOOK_DB", practice.place.path().join("book.db"))
        .env("RIMBOOK_TODAY", "2026-10-12")
        .env("HOME", practice.place.path())
        .env("TZ", zone)
        .stdin(std::process::Stdio::null())
        .output()
        .unwrap();
    String::from_utf8(output.stderr).unwrap()
}

#[test]
fn no_zone_ends_the_wait_after_wrong_attempts_and_their_owner_is_told_of_them() {
    let (practice, ines, kit) = practice();
    import(&practice, &kit);
    let confirm = ["confirm", "1001", "--as", OPTICIAN, "--pin-file"];
    let attempt =
        |zone: &str, file: &str| in_zone(&practice, zone, &[&confirm[..], &[file]].concat());
    for _ in 0..3 {
        let said = attempt("UTC", &kit);
        assert!(said.contains("not right"), "{said}");
    }
    for zone in ["Etc/GMT-14", "UTC", "Etc/GMT+12"] {
        let said = attempt(zone, &ines);
        assert!(said.contains("3 wrong attempts"), "{zone}: {said}");
    }
    // Once the wait is over.
    let book = rusqlite::Connection::open(practice.place.path().join("book.db")).unwrap();
    book.execute(
        "UPDATE credential SET waits_until_s = waits_until_s - 600",
        [],
    )
    .unwrap();
    drop(book);
    let said = attempt("UTC", &ines);
    assert!(said.contains("3 times since you last signed in"), "{said}");
    assert!(!attempt("UTC", &ines).contains("wrong PIN"));
}

#[test]
fn where_people_sign_in_nobody_reads_without_a_name_and_who_read_is_kept() {
    let (practice, ines, kit) = practice();
    import(&practice, &kit);
    let out = practice.place.path().join("out.json");
    let out = out.to_str().unwrap();
    let readings: [&[&str]; 6] = [
        &["show", "1001"],
        &["list"],
        &["list", "--uncollected"],
        &["find", "Wanda"],
        &["export", "--all", "--out", out],
        &["print", "1001", "--what", "tray", "--format", "text"],
    ];
    for words in readings {
        let said = practice.run(words);
        assert_eq!(said.status, 1, "{words:?}");
        assert!(!said.out.contains("Wanda"), "{words:?}: {}", said.out);
        assert!(said.err.contains("signed in"), "{words:?}: {}", said.err);
        let is_written = std::path::Path::new(out).exists();
        assert!(words[0] != "export" || !is_written);
        let wrong = practice.run(&[words, &["--as", OPTICIAN, "--pin-file", &kit]].concat());
        assert_eq!(wrong.status, 1, "{words:?}");
        // The wait after wrong attempts is no matter of this test.
        let book = rusqlite::Connection::open(practice.place.path().join("book.db")).unwrap();
        book.execute("UPDATE credential SET waits_until_s = NULL", [])
            .unwrap();
        drop(book);
        let said = practice.run(&[words, &["--as", OPTICIAN, "--pin-file", &ines]].concat());
        assert_eq!(said.status, 0, "{words:?}: {}", said.err);
    }
    let record = practice.place.path().join("record.json");
    let record = record.to_str().unwrap();
    let born = json!({"born": "1970-05-01"}).to_string();
    let file = practice.place.path().join("born.json");
    std::fs::write(&file, born).unwrap();
    let recorded = ["record", "1001", "wearer", file.to_str().unwrap()];
    practice.does(&[&recorded[..], &["--as", ASSISTANT, "--pin-file", &kit]].concat());
    let access = ["access", "--name", "Wanda Holt", "--born", "1970-05-01"];
    let access = [&access[..], &["--out", record, "--format", "json"]].concat();
    practice.does(&[&access[..], &["--as", OPTICIAN, "--pin-file", &ines]].concat());
    let record: serde_json::Value =
        serde_json::from_str(&std::fs::read_to_string(record).unwrap()).unwrap();
    let reads = record["jobs"][0]["reads"].as_array().unwrap();
    let what: Vec<&str> = reads.iter().map(|r| r["what"].as_str().unwrap()).collect();
    let all = [
        "shown",
        "listed",
        "listed",
        "found",
        "exported",
        "printed",
        "access given",
    ];
    assert_eq!(what, all);
    assert!(reads.iter().all(|r| r["by"] == OPTICIAN));
    // Apart from history, which knows of the access alone.
    let history = record["jobs"][0]["history"].to_string();
    assert!(!history.contains("shown") && !history.contains("exported"));
}

#[test]
fn as_names_a_person_and_a_format_in_its_place_is_refused_before_anything_is_asked() {
    let (practice, ines, kit) = practice();
    import(&practice, &kit);
    let access = ["access", "--name", "Wanda Holt", "--born", "1970-05-01"];
    let commands: [(&[&str], &str); 5] = [
        (&["export", "--all"], "csv"),
        (&["export", "1001"], "FHIR"),
        (&["print", "1001", "--what", "tray"], "text"),
        (&["figures"], "json"),
        (&[&access[..], &["--out", "record.json"]].concat(), "json"),
    ];
    let refused = |words: &[&str], format: &str| {
        let said = practice.run(&[words, &["--as", format]].concat());
        assert_eq!(said.status, 2, "{words:?}: {}", said.err);
        let instead = format!("write --format {format}");
        assert!(said.err.contains(&instead), "{words:?}: {}", said.err);
        assert_eq!(said.out, "", "{words:?}");
    };
    for (words, format) in commands {
        refused(words, format);
    }
    let off = ["staff", "sign-in", "off", "--as", OPTICIAN];
    practice.does(&[&off[..], &["--pin-file", &ines]].concat());
    for (words, format) in commands {
        refused(words, format);
    }
    // The earlier word for a person is still taken, and a colleague may have any name.
    practice.does(&["staff", "add", "--name", "Pdf", "--role", "assistant"]);
    for (option, name) in [("--by", OPTICIAN), ("--as", "pdf")] {
        let said = practice.run(&["export", "1001", option, name, "-f", "csv"]);
        assert_eq!(said.status, 0, "{option}: {}", said.err);
        assert!(said.out.contains("Wanda Holt"), "{}", said.out);
    }
}

#[test]
fn turning_sign_in_on_prints_the_first_recovery_code_and_no_second_one() {
    let (practice, ines, _) = people();
    // Without the PIN it is on, and is said how the code is made.
    let said = practice.run(&TURN_ON);
    assert_eq!(said.status, 0, "{}", said.err);
    assert!(said.err.contains("staff recovery-code"), "{}", said.err);
    assert!(!said.out.contains("recovery code"), "{}", said.out);
    let off = ["staff", "sign-in", "off", "--as", OPTICIAN];
    practice.does(&[&off[..], &["--pin-file", &ines]].concat());
    let turned = practice.does(&[&TURN_ON[..], &["--pin-file", &ines]].concat());
    let digits = turned["code"].as_str().unwrap().replace('-', "");
    assert_eq!(digits.len(), 32);
    assert!(digits.chars().all(|c| c.is_ascii_hexdigit()));
    // The code that was written down is still good.
    practice.does(&[&off[..], &["--pin-file", &ines]].concat());
    let again = practice.does(&[&TURN_ON[..], &["--pin-file", &ines]].concat());
    assert!(again.get("code").is_none());
}

#[test]
fn a_shown_job_says_which_names_nobody_proved() {
    let (practice, ines, kit) = practice();
    import(&practice, &kit);
    let show = || {
        let said = practice.run(&["show", "1001", "--as", OPTICIAN, "--pin-file", &ines]);
        assert_eq!(said.status, 0, "{}", said.err);
        said.out
    };
    let name = format!(": measured by {OPTICIAN}");
    assert!(
        show().contains(&format!("not confirmed{name}")),
        "{}",
        show()
    );
    practice.does(&["confirm", "1001", "--as", OPTICIAN, "--pin-file", &ines]);
    assert!(!show().contains("not confirmed"), "{}", show());
    assert!(!show().contains("not signed in"), "{}", show());
    let off = ["staff", "sign-in", "off", "--as", OPTICIAN];
    practice.does(&[&off[..], &["--pin-file", &ines]].concat());
    let job = practice.place.path().join("job.json");
    practice.does(&["import", job.to_str().unwrap()]);
    let said = practice.run(&["show", "1002"]);
    assert!(
        said.out.contains(&format!("not signed in{name}")),
        "{}",
        said.out
    );
}
