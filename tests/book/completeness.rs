//! What somebody with the file and another program can do to a book is found by the doctor: a job taken
//! out, numbers swapped, what lists show, what was decided, people, settings, tables; a repair leaves the
//! traces of it, and no later entry makes it look kept.

use crate::practice::{ASSISTANT, OPTICIAN, Practice, past_the_program};
use rimbook::testing::book::desk::{Desk, examine};

/// The words of all faults.
fn faults(practice: &Practice) -> Vec<String> {
    let (status, said) = practice.doctor(&[]);
    let faults: Vec<String> = said["findings"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|f| f["level"] == "fault")
        .map(|f| {
            format!(
                "{}: {}",
                f["id"].as_str().unwrap(),
                f["message"].as_str().unwrap()
            )
        })
        .collect();
    assert_eq!(status, i32::from(!faults.is_empty()), "{said}");
    faults
}

fn has(faults: &[String], words: &str) {
    assert!(
        faults.iter().any(|f| f.contains(words)),
        "{words} in {faults:?}"
    );
}

/// What the doctor says of a book.
fn said_of(path: &std::path::Path) -> (bool, String) {
    let found = examine(path, crate::driver::clock(), None, None, None).unwrap();
    (found.is_sound(), format!("{:?}", found.findings))
}

#[test]
fn a_job_that_was_taken_out_is_noticed_and_no_repair_hides_it() {
    let practice = Practice::begin();
    let dir = practice.path("kept");
    let set = ["backup", "--set", dir.to_str().unwrap(), "--as", OPTICIAN];
    practice.does(&[&set[..], &["--keep", "1"]].concat());
    practice.back_up(&dir);
    past_the_program(
        &practice.book(),
        "PRAGMA foreign_keys = off;
         DELETE FROM job_search WHERE rowid = (SELECT id FROM job WHERE number = '1001');
         DELETE FROM job WHERE number = '1001';",
    );
    has(&faults(&practice), "job 1001 is gone and was never erased");
    // The good copies stay while the fault is there.
    let said = practice.does(&["backup"]);
    assert_eq!(said["removed"], serde_json::json!([]), "{said}");
    assert!(
        said["notes"]
            .to_string()
            .contains("no older backup was removed")
    );

    // With its search entry still there, no repair takes that away.
    let practice = Practice::begin();
    past_the_program(
        &practice.book(),
        "PRAGMA foreign_keys = off; DELETE FROM job WHERE number = '1001';",
    );
    has(&faults(&practice), "search: ");
    let said = practice.run(&["doctor", "--repair"]).json;
    assert_eq!(said["repaired"], serde_json::json!([]), "{said}");
    assert!(said["left"].to_string().contains("may be the trace"));
    has(&faults(&practice), "search: ");
    has(&faults(&practice), "job 1001 is gone");
}

#[test]
fn an_erased_job_is_not_missed() {
    let practice = Practice::begin();
    practice.does(&["cancel", "1002", "--as", OPTICIAN, "--reason", "not wanted"]);
    practice.does(&[
        "erase",
        "1002",
        "--as",
        OPTICIAN,
        "--reason",
        "asked for",
        "--confirm",
        "1002",
    ]);
    assert_eq!(faults(&practice), [] as [String; 0]);
    past_the_program(
        &practice.book(),
        "DELETE FROM setting WHERE name = 'erased_numbers'",
    );
    has(&faults(&practice), "the numbers of erased jobs");
}

#[test]
fn swapped_numbers_are_noticed_and_no_repair_hides_them() {
    let practice = Practice::begin();
    past_the_program(
        &practice.book(),
        "UPDATE job SET number = 'x' WHERE number = '1001';
         UPDATE job SET number = '1001' WHERE number = '1002';
         UPDATE job SET number = '1002' WHERE number = 'x';",
    );
    for _ in 0..2 {
        let found = faults(&practice);
        has(&found, "job 1001 is not as its history says");
        has(&found, "job 1002 is not as its history says");
        practice.run(&["doctor", "--repair"]);
    }
    // Nothing is written to the wrong one either.
    let said = practice.fails(&["advance", "1001", "--to", "ordered", "--as", OPTICIAN]);
    assert!(said.contains("not as its history says"), "{said}");
}

#[test]
fn what_lists_show_is_compared_with_the_job_and_written_again() {
    for (change, column) in [
        ("stage = 'verified'", "stage"),
        ("past = 1", "past"),
        ("wearer = 'Somebody Else'", "wearer"),
        ("wearer_key = 'somebody else'", "wearer"),
        ("born = '1950-01-01'", "born"),
        ("phone_tail = '321'", "telephone"),
        ("due_on = '2026-01-01'", "due"),
        ("promised_on = '2026-01-01'", "promised"),
        ("collection_at = '2026-01-01T10:00'", "collection"),
    ] {
        let practice = Practice::begin();
        past_the_program(
            &practice.book(),
            &format!("UPDATE job SET {change} WHERE number = '1001'"),
        );
        has(
            &faults(&practice),
            &format!("what they do not hold: 1001 ({column})"),
        );
        let said = practice.does(&["doctor", "--repair"]);
        assert!(said["repaired"].to_string().contains("what lists show"));
        assert_eq!(faults(&practice), [] as [String; 0], "{change}");
    }
}

#[test]
fn what_holds_a_job_today_is_judged_again() {
    let practice = Practice::begin();
    practice.does(&["list"]);
    past_the_program(
        &practice.book(),
        "UPDATE job SET held = '[]' WHERE number = '1001'",
    );
    has(&faults(&practice), "1001 (held)");
    practice.does(&["doctor", "--repair"]);
    assert_eq!(faults(&practice), [] as [String; 0]);
}

#[test]
fn what_was_decided_about_a_job_is_bound() {
    let (_dir, path) = crate::driver::demo_book();
    let (sound, said) = said_of(&path);
    assert!(sound, "{said}");
    let whole = std::fs::read(&path).unwrap();
    let decided = "was accepted or let through in job";
    let differs = "is not as its history says";
    for (change, words) in [
        (
            "DROP TRIGGER acceptance_is_only_erased; DELETE FROM acceptance;
             CREATE TRIGGER acceptance_is_only_erased BEFORE DELETE ON acceptance
             WHEN old.job_id NOT IN (SELECT job_id FROM erasing)
             BEGIN SELECT RAISE (ABORT, 'acceptances are not changed'); END;",
            decided,
        ),
        (
            "INSERT INTO acceptance (job_id, content) SELECT job_id, content FROM acceptance LIMIT 1",
            decided,
        ),
        (
            "UPDATE passed SET stands = 0 WHERE id = (SELECT max(id) FROM passed)",
            decided,
        ),
        (
            "DELETE FROM passed WHERE id = (SELECT min(id) FROM passed)",
            decided,
        ),
        (
            "UPDATE passed SET content = replace(content, '\"number\"', '\"numbet\"')",
            decided,
        ),
        (
            "INSERT INTO passed (job_id, gate, stands, content) SELECT id, 'ordered', 1, content FROM job LIMIT 1",
            decided,
        ),
        ("UPDATE job SET question = NULL", differs),
        ("UPDATE job SET revision = revision + 1", differs),
    ] {
        std::fs::write(&path, &whole).unwrap();
        past_the_program(&path, change);
        let (sound, said) = said_of(&path);
        assert!(!sound && said.contains(words), "{change}: {said}");
    }
}

#[test]
fn people_settings_and_secrets_are_bound() {
    for (change, words) in [
        (
            "UPDATE staff SET content = replace(content, 'assistant', 'optometrist') WHERE name = 'Nadia Brookwell'",
            "the staff list is not as history says",
        ),
        (
            "INSERT INTO staff VALUES ('Somebody', '{\"name\":\"Somebody\",\"role\":\"assistant\"}')",
            "the staff list is not as history says",
        ),
        (
            "INSERT INTO setting VALUES ('security', '{\"sign_in\":false,\"idle_minutes\":0}')",
            "the settings are not as history says",
        ),
        (
            "INSERT INTO credential (name, secret) VALUES ('Ines Calloway', '$argon2id$x')",
            "a PIN or passphrase is not as history says",
        ),
    ] {
        let practice = Practice::begin();
        past_the_program(&practice.book(), change);
        has(&faults(&practice), words);
        // The next change of the practice does not bind it as if it had been kept.
        let add = [
            "staff",
            "add",
            "--name",
            "Tove Marsh",
            "--role",
            "assistant",
        ];
        let said = practice.fails(&add);
        assert!(said.contains("changed past the program"), "{said}");
        has(&faults(&practice), words);
    }
}

#[test]
fn a_change_past_the_program_is_not_bound_by_the_next_entry() {
    let practice = Practice::begin();
    past_the_program(
        &practice.book(),
        "UPDATE job SET content = replace(content, 'Wanda Holt', 'Wanda Hull'), wearer = 'Wanda Hull',
            wearer_key = 'wanda hull' WHERE number = '1001'",
    );
    let change = practice.path("change.json");
    std::fs::write(&change, "{\"colour\":\"black\"}").unwrap();
    let record = |number| {
        [
            "record",
            number,
            "frame",
            change.to_str().unwrap(),
            "--as",
            ASSISTANT,
        ]
    };
    let said = practice.fails(&record("1001"));
    assert!(
        said.contains("job 1001 is not as its history says"),
        "{said}"
    );
    has(&faults(&practice), "job 1001 is not as its history");
    // The others go on.
    practice.does(&record("1002"));
}

#[test]
fn tables_indices_and_triggers_are_those_of_this_program() {
    for (change, words, mends) in [
        (
            "DROP TRIGGER history_is_not_changed",
            "1 missing: trigger history_is_not_changed",
            true,
        ),
        ("DROP INDEX job_open", "1 missing: index job_open", true),
        (
            "CREATE TRIGGER planted BEFORE INSERT ON acceptance BEGIN SELECT RAISE (IGNORE); END",
            "1 not of this program: trigger planted",
            false,
        ),
        (
            "CREATE TABLE planted (x)",
            "1 not of this program: table planted",
            false,
        ),
        (
            "DROP INDEX job_phone; CREATE INDEX job_phone ON job (wearer)",
            "1 changed: index job_phone",
            false,
        ),
    ] {
        let practice = Practice::begin();
        past_the_program(&practice.book(), change);
        has(&faults(&practice), words);
        practice.run(&["doctor", "--repair"]);
        let after = faults(&practice);
        if mends {
            assert_eq!(after, [] as [String; 0], "{change}");
        } else {
            has(&after, words);
        }
    }
}

#[test]
fn nothing_is_said_to_be_accepted_that_was_not_kept() {
    let (_dir, path) = crate::driver::demo_book();
    past_the_program(
        &path,
        "CREATE TRIGGER planted BEFORE INSERT ON acceptance BEGIN SELECT RAISE (IGNORE); END",
    );
    let mut desk = Desk::open(&path, crate::driver::clock()).unwrap();
    let people: Vec<String> = desk
        .staff()
        .unwrap()
        .0
        .into_iter()
        .map(|m| m.name)
        .collect();
    let mut said = Vec::new();
    for line in desk.worklist().unwrap() {
        let Some(gate) = line.stage.next_gate() else {
            continue;
        };
        let open = desk.load(&line.number).unwrap();
        for finding in desk.findings(&open, gate).unwrap() {
            for by in &people {
                let check = finding.check.word();
                match desk.accept(&line.number, check, None, by, "seen") {
                    Ok(accepted) => assert!(!accepted.ok, "{}", accepted.message),
                    Err(error) => said.push(error.message),
                }
            }
        }
    }
    has(&said, "the book did not keep what was written");
}

#[test]
fn secrets_that_go_on_after_a_restore_are_bound_again() {
    let practice = Practice::begin();
    let backup = practice.back_up(&practice.path("kept"));
    let clock = crate::driver::clock();
    let mut desk = Desk::open(&practice.book(), clock).unwrap();
    desk.set_secret(OPTICIAN, "a long passphrase", OPTICIAN)
        .unwrap();
    drop(desk);
    assert_eq!(faults(&practice), [] as [String; 0]);
    practice.does(&["restore", backup.to_str().unwrap(), "--as", OPTICIAN]);
    assert_eq!(faults(&practice), [] as [String; 0]);
    past_the_program(
        &practice.book(),
        "UPDATE credential SET secret = secret || 'x'",
    );
    has(
        &faults(&practice),
        "a PIN or passphrase is not as history says",
    );
}
