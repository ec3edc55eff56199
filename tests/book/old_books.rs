//! Books of every earlier version, kept as files: brought up to date, read in full, worked in, and bound
//! by history as they were found.
#![allow(clippy::disallowed_methods, reason = "tests")]

use crate::driver::clock;
use crate::old_books_of::{VERSIONS, file, make, put};
use crate::practice::past_the_program;
use rimbook::testing::book::desk::{Desk, examine};
use rimbook::testing::book::store::Store;
use rimbook::testing::job::{QuestionTo, Section};
use serde_json::json;

const PERSON: &str = "Ines Calloway";

#[test]
fn a_missing_file_is_written() {
    for version in VERSIONS {
        if std::env::var_os("RIMBOOK_WRITE_DOCS").is_some() && !file(version).exists() {
            std::fs::create_dir_all(file(version).parent().unwrap()).unwrap();
            make(version, &file(version));
        }
        assert!(file(version).exists(), "version {version}");
    }
}

#[test]
fn a_book_of_every_version_is_brought_up_to_date_and_worked_in() {
    for version in VERSIONS {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("book.db");
        put(version, &path);
        let mut desk = Desk::open(&path, clock()).unwrap();
        assert_eq!(desk.numbers().unwrap(), ["1002", "1001"], "{version}");
        let open = desk.load("1001").unwrap();
        assert_eq!((open.acceptances.len(), open.passed.len()), (1, 1));
        assert_eq!(open.job.wearer.name.as_deref(), Some("Una Merrowby"));
        assert_eq!(desk.find("Merrowby", 5).unwrap().len(), 1);
        let asked = desk.load("1002").unwrap().questions;
        assert_eq!(asked[0].of, QuestionTo::Prescriber);
        assert_eq!(desk.history("1001").unwrap().len(), 2);
        let found = examine(&path, clock(), None, None, None).unwrap();
        assert!(found.is_sound(), "{version}: {:?}", found.findings);
        desk.answer("1002", PERSON, None, "yes").unwrap();
        let colour = json!({"colour": "black"});
        desk.record("1001", Section::Frame, &colour, None, Some(PERSON))
            .unwrap();
        let new = desk.new_job("Tove Marsh", Some(PERSON)).unwrap();
        assert_eq!(new.number, if version == 1 { "1003" } else { "1010" });
        let found = examine(&path, clock(), None, None, None).unwrap();
        assert!(found.is_sound(), "{version}: {:?}", found.findings);
    }
}

#[test]
fn an_old_book_is_bound_as_it_was_found() {
    for version in VERSIONS {
        for (change, words) in [
            ("DELETE FROM passed", "accepted or let through in job 1001"),
            (
                "UPDATE passed SET stands = 0",
                "accepted or let through in job 1001",
            ),
            (
                "UPDATE job SET question = NULL WHERE number = '1002'",
                "job 1002 is not as its history",
            ),
            (
                "UPDATE job SET revision = 9 WHERE number = '1002'",
                "job 1002 is not as its history",
            ),
            (
                "UPDATE job SET number = '1077' WHERE number = '1002'; UPDATE job_search SET number = '1077' WHERE number = '1002'",
                "job 1077 is not as its history",
            ),
            ("DELETE FROM staff", "the staff list is not as history says"),
            (
                "UPDATE setting SET content = '{}' WHERE name = 'practice'",
                "the settings are not as history says",
            ),
        ] {
            let dir = tempfile::tempdir().unwrap();
            let path = dir.path().join("book.db");
            put(version, &path);
            drop(Desk::open(&path, clock()).unwrap());
            assert_eq!(
                Store::open(&path).unwrap().walk_history().unwrap().faults,
                []
            );
            past_the_program(&path, change);
            let faults = Store::open(&path).unwrap().walk_history().unwrap().faults;
            let said: Vec<String> = faults.iter().map(ToString::to_string).collect();
            assert!(
                said.iter().any(|f| f.contains(words)),
                "{version}, {change}: {said:?}"
            );
        }
    }
}

#[test]
fn what_an_old_book_was_found_as_cannot_be_changed_unseen() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    put(5, &path);
    drop(Desk::open(&path, clock()).unwrap());
    past_the_program(
        &path,
        "DROP TRIGGER job_as_found_is_not_changed; UPDATE job_as_found SET state = x'02' WHERE job_id = 1",
    );
    let faults = Store::open(&path).unwrap().walk_history().unwrap().faults;
    let said: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert!(
        said.iter().any(|f| f.contains("an older version")),
        "{said:?}"
    );
}
