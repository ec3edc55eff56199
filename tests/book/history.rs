//! History as a chain: whole after any work, and anything changed past the program is shown.
#![allow(clippy::disallowed_methods, reason = "tests")]

use std::path::{Path, PathBuf};

use crate::driver::{clock, optician, scenario};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::book::store::Store;
use rimbook::testing::book::store::chain::Fault;
use rimbook::testing::job::{Design, Section};
use rusqlite::Connection;
use serde_json::json;

/// A book in which things have happened.
fn book() -> (tempfile::TempDir, PathBuf) {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    let mut desk = Desk::create(&path, clock()).unwrap();
    desk.add_staff(optician()).unwrap();
    for id in ["S01", "S12"] {
        let number = desk
            .import(&scenario(id)["job"].to_string(), Some("Ines Calloway"))
            .unwrap()
            .numbers
            .remove(0);
        for note in ["one", "two"] {
            desk.record(
                &number,
                Section::Frame,
                &json!({"colour": note}),
                None,
                Some("Ines Calloway"),
            )
            .unwrap();
        }
    }
    (dir, path)
}

fn faults(path: &Path) -> Vec<Fault> {
    Store::open(path).unwrap().walk_history().unwrap().faults
}

/// Changes a book past the program, its triggers taken out of the way.
fn past_the_program(path: &Path, sql: &str) {
    let raw = Connection::open(path).unwrap();
    raw.execute_batch(
        "PRAGMA foreign_keys = OFF;
         DROP TRIGGER history_is_not_changed; DROP TRIGGER history_is_not_deleted;
         DROP TRIGGER history_detail_is_not_changed; DROP TRIGGER history_detail_is_only_erased;",
    )
    .unwrap();
    raw.execute_batch(sql).unwrap();
}

#[test]
fn the_chain_is_whole_after_work() {
    let (_dir, path) = book();
    let walk = Store::open(&path).unwrap().walk_history().unwrap();
    assert_eq!(walk.faults, []);
    // The person, two imports, four entries.
    assert_eq!(walk.rows, 7);
}

#[test]
fn whatever_is_changed_past_the_program_is_shown() {
    for (sql, wanted) in [
        (
            "UPDATE history SET by = 'Somebody Else' WHERE id = 3",
            Fault::Changed { id: 3 },
        ),
        (
            "UPDATE history SET at = '2020-01-01T00:00:00' WHERE id = 4",
            Fault::Changed { id: 4 },
        ),
        (
            "UPDATE history SET job_id = 2 WHERE id = 3",
            Fault::Changed { id: 3 },
        ),
        (
            "UPDATE history_detail SET detail = '{}' WHERE id = 3",
            Fault::Changed { id: 3 },
        ),
        (
            "UPDATE history SET link = zeroblob(31) WHERE id = 5",
            Fault::Changed { id: 5 },
        ),
        (
            "DELETE FROM history_detail WHERE id = 3",
            Fault::ContentGone { id: 3 },
        ),
        (
            "DELETE FROM history_detail WHERE id = 4; DELETE FROM history WHERE id = 4",
            Fault::Missing { id: 5 },
        ),
        (
            "UPDATE job SET content = replace(content, 'two', 'three') WHERE id = 1",
            Fault::State {
                job: "1001".to_owned(),
            },
        ),
        // The newest entry cut off: the job no longer stands as what is left says.
        (
            "DELETE FROM history_detail WHERE id = 7; DELETE FROM history WHERE id = 7",
            Fault::State {
                job: "1002".to_owned(),
            },
        ),
    ] {
        let (_dir, path) = book();
        past_the_program(&path, sql);
        let found = faults(&path);
        assert!(found.contains(&wanted), "{sql}: {found:?}");
    }
}

#[test]
fn a_changed_link_is_noticed_by_what_follows_it() {
    let (_dir, path) = book();
    past_the_program(
        &path,
        "UPDATE history SET link = (SELECT link FROM history WHERE id = 2) WHERE id = 3",
    );
    let found = faults(&path);
    assert_eq!(found, [Fault::Changed { id: 3 }, Fault::Changed { id: 4 }]);
}

#[test]
fn a_book_from_before_the_chain_is_taken_into_it() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("old.db");
    let raw = Connection::open(&path).unwrap();
    raw.execute_batch(include_str!("../../src/book/store/schema/0001_book.sql"))
        .unwrap();
    raw.execute_batch(
        "PRAGMA application_id = 1380535618; PRAGMA user_version = 1;
         INSERT INTO staff VALUES ('Ines Calloway', '{\"name\":\"Ines Calloway\",\"role\":\"optometrist\"}');
         INSERT INTO job VALUES (1, '1001', 'measured', 0, 2, 'Wanda Holt', 'wanda holt', NULL, '', NULL, NULL, NULL,
                                 '[]', '0001-01-01', NULL, '{\"wearer\":{\"name\":\"Wanda Holt\"}}');
         INSERT INTO event VALUES (1, 1, '2026-10-01T09:00:00', NULL, 'begun', '{}');
         INSERT INTO event VALUES (4, 1, '2026-10-01T09:05:00', 'Ines Calloway', 'recorded', '{\"section\":\"wearer\"}');",
    )
    .unwrap();
    drop(raw);
    let desk = Desk::open(&path, clock()).unwrap();
    let events: Vec<_> = desk
        .history("1001")
        .unwrap()
        .into_iter()
        .map(|e| (e.what, e.by))
        .collect();
    assert_eq!(
        events,
        [
            ("begun".to_owned(), None),
            ("recorded".to_owned(), Some("Ines Calloway".to_owned()))
        ]
    );
    drop(desk);
    assert_eq!(faults(&path), []);
}

#[test]
fn words_of_an_earlier_version_are_read_and_its_history_is_not_written_again() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("old.db");
    let raw = Connection::open(&path).unwrap();
    raw.execute_batch(include_str!("../../src/book/store/schema/0001_book.sql"))
        .unwrap();
    raw.execute_batch(
        r#"PRAGMA application_id = 1380535618; PRAGMA user_version = 1;
         INSERT INTO staff VALUES ('Ines Calloway', '{"name":"Ines Calloway","role":"optometrist"}');
         INSERT INTO job VALUES (1, '1001', 'measured', 0, 1, 'Wanda Holt', 'wanda holt', NULL, '', NULL, NULL, NULL,
                                 '[]', '0001-01-01',
                                 '{"text":"Is the addition meant?","by":"Ines Calloway","on":"2026-10-01"}',
                                 '{"frame":{"name":"Hopper 12"},"lenses":{"design":"occupational"},"wearer":{"name":"Wanda Holt"}}');
         INSERT INTO passed VALUES (1, 1, 'ordered', 1, '{"lenses":{"design":"occupational"},"wearer":{"name":"Wanda Holt"}}');
         INSERT INTO event VALUES (1, 1, '2026-10-01T09:00:00', 'Ines Calloway', 'begun', '{}');"#,
    )
    .unwrap();
    drop(raw);
    let content = || -> String {
        Connection::open(&path)
            .unwrap()
            .query_row("SELECT content FROM job", [], |r| r.get(0))
            .unwrap()
    };
    let mut desk = Desk::open(&path, clock()).unwrap();
    let open = desk.load("1001").unwrap();
    assert_eq!(open.job.lenses.design, Some(Design::Office));
    assert_eq!(open.passed[0].job.lenses.design, Some(Design::Office));
    let asked: Vec<&str> = open.questions.iter().map(|q| q.of.word()).collect();
    assert_eq!(asked, ["prescriber"]);
    assert!(content().contains("occupational"), "nothing is rewritten");
    // The next entry writes the present word.
    let change = json!({"colour": "slate"});
    desk.record("1001", Section::Frame, &change, None, Some("Ines Calloway"))
        .unwrap();
    drop(desk);
    let now = content();
    assert!(
        now.contains("\"office\"") && !now.contains("occupational"),
        "{now}"
    );
    assert_eq!(faults(&path), []);
}

#[test]
fn an_acceptance_keeps_what_the_screen_showed() {
    let (_dir, path) = book();
    let mut desk = Desk::open(&path, clock()).unwrap();
    let open = desk.load("1002").unwrap();
    let gate = open.job.stage().next_gate().unwrap();
    let finding = desk
        .findings(&open, gate)
        .unwrap()
        .into_iter()
        .find(|f| {
            f.accept
                .allows(rimbook::testing::job::Role::DispensingOptician)
                && f.is_open()
        })
        .expect("a warning to accept");
    let taken = desk
        .accept(
            "1002",
            finding.check.word(),
            None,
            "Ines Calloway",
            "tried on",
        )
        .unwrap();
    assert!(taken.ok, "{}", taken.message);
    let kept = desk.load("1002").unwrap().acceptances;
    assert!(kept[0].shown.contains(&finding.message), "{kept:?}");
    if let Some(limit) = &finding.limit {
        assert!(kept[0].shown.contains(limit.as_str()), "{kept:?}");
    }
    let event = desk.history("1002").unwrap().pop().unwrap();
    assert_eq!(
        event.detail["accepted"][0]["shown"],
        json!(kept[0].shown),
        "and in the chain"
    );
}
