//! The book's file: the settings in force, and files that are damaged or not ours.
#![allow(clippy::disallowed_methods, reason = "tests")]

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::path::Path;

use rimbook::testing::book::clock::Clock;
use rimbook::testing::book::desk::{Desk, ErrorKind};
use rimbook::testing::book::store::{APPLICATION_ID, Store, newest_version};
use rimbook::testing::job::{Role, StaffMember};

/// Every file of a directory with its content.
fn files(directory: &Path) -> BTreeMap<OsString, Vec<u8>> {
    std::fs::read_dir(directory)
        .unwrap()
        .map(|e| e.unwrap())
        .map(|e| (e.file_name(), std::fs::read(e.path()).unwrap()))
        .collect()
}

fn book(at: &Path) {
    let mut desk = Desk::create(at, Clock::default()).unwrap();
    desk.add_staff(StaffMember {
        name: "Ines Calloway".to_owned(),
        role: Role::Optometrist,
        registration: Some("01-1".to_owned()),
        supervisor: None,
    })
    .unwrap();
    for n in 0..40 {
        desk.new_job(&format!("Wearer {n}"), None).unwrap();
    }
}

fn refused(at: &Path) -> String {
    let before = files(at.parent().unwrap());
    let error = Desk::open(at, Clock::default()).unwrap_err();
    assert_eq!(error.kind, ErrorKind::File);
    assert!(
        files(at.parent().unwrap()) == before,
        "the file and what lies beside it are untouched"
    );
    error.message
}

#[test]
fn the_settings_that_keep_a_book_safe_are_in_force() {
    let dir = tempfile::tempdir().unwrap();
    let at = dir.path().join("book.db");
    drop(Store::create(&at).unwrap());
    let store = Store::open(&at).unwrap();
    for (name, value) in [
        ("journal_mode", "wal".to_owned()),
        ("synchronous", "2".to_owned()),
        ("foreign_keys", "1".to_owned()),
        ("trusted_schema", "0".to_owned()),
        ("cell_size_check", "1".to_owned()),
        ("secure_delete", "1".to_owned()),
        ("application_id", APPLICATION_ID.to_string()),
        ("user_version", newest_version().to_string()),
    ] {
        assert_eq!(store.setting_in_force(name).unwrap(), value, "{name}");
    }
}

#[test]
fn a_truncated_book_is_refused_and_untouched() {
    let dir = tempfile::tempdir().unwrap();
    let at = dir.path().join("book.db");
    book(&at);
    let whole = std::fs::read(&at).unwrap();
    for keep in [whole.len() / 2, 4096, 2000, 99, 0] {
        std::fs::write(&at, &whole[..keep]).unwrap();
        let said = refused(&at);
        assert!(
            said.contains("damaged") || said.contains("no rimbook book"),
            "{keep} bytes: {said}"
        );
    }
}

#[test]
fn a_book_whose_first_page_was_overwritten_is_refused_and_untouched() {
    let dir = tempfile::tempdir().unwrap();
    let at = dir.path().join("book.db");
    book(&at);
    let whole = std::fs::read(&at).unwrap();
    for (from, says) in [(0, "no rimbook book"), (100, "damaged")] {
        let mut bytes = whole.clone();
        bytes[from..4096].fill(0xA5);
        std::fs::write(&at, bytes).unwrap();
        let said = refused(&at);
        assert!(said.contains(says), "from byte {from}: {said}");
    }
}

#[test]
fn a_newer_book_and_a_foreign_one_are_not_reached_for() {
    let dir = tempfile::tempdir().unwrap();
    let newer = dir.path().join("50% newer?.db");
    book(&newer);
    let raw = rusqlite::Connection::open(&newer).unwrap();
    raw.pragma_update(None, "user_version", 99).unwrap();
    drop(raw);
    assert!(refused(&newer).contains("version 99"));

    // Somebody else's database, with changes that are in its log only: as after a crash.
    let live = dir.path().join("live.db");
    let raw = rusqlite::Connection::open(&live).unwrap();
    raw.execute_batch(
        "PRAGMA journal_mode = WAL; PRAGMA application_id = 7; CREATE TABLE t (x); PRAGMA wal_checkpoint;
         INSERT INTO t VALUES (1);",
    )
    .unwrap();
    let after_a_crash = dir.path().join("crash");
    std::fs::create_dir(&after_a_crash).unwrap();
    for name in ["live.db", "live.db-wal"] {
        std::fs::copy(dir.path().join(name), after_a_crash.join(name)).unwrap();
    }
    drop(raw);
    let said = refused(&after_a_crash.join("live.db"));
    assert!(said.contains("no rimbook book"), "{said}");
}

#[test]
fn a_book_is_taken_up_after_a_crash_with_what_only_its_log_holds() {
    let dir = tempfile::tempdir().unwrap();
    let at = dir.path().join("book.db");
    let mut desk = Desk::create(&at, Clock::default()).unwrap();
    let number = desk.new_job("Wearer", None).unwrap().number;
    let after_a_crash = dir.path().join("crash");
    std::fs::create_dir(&after_a_crash).unwrap();
    for name in ["book.db", "book.db-wal"] {
        std::fs::copy(dir.path().join(name), after_a_crash.join(name)).unwrap();
    }
    let before = desk.load(&number).unwrap();
    let again = Desk::open(&after_a_crash.join("book.db"), Clock::default()).unwrap();
    assert_eq!(again.load(&number).unwrap(), before);
}

#[test]
fn a_newer_version_that_only_the_log_tells_of_is_refused_and_the_log_is_left_where_it_is() {
    let dir = tempfile::tempdir().unwrap();
    let live = dir.path().join("live.db");
    book(&live);
    let raw = rusqlite::Connection::open(&live).unwrap();
    raw.pragma_update(None, "wal_autocheckpoint", 0).unwrap();
    raw.pragma_update(None, "user_version", 99).unwrap();
    let after_a_crash = dir.path().join("crash");
    std::fs::create_dir(&after_a_crash).unwrap();
    for name in ["live.db", "live.db-wal"] {
        std::fs::copy(dir.path().join(name), after_a_crash.join(name)).unwrap();
    }
    let before = files(&after_a_crash);
    let at = after_a_crash.join("live.db");
    let error = Desk::open(&at, Clock::default()).unwrap_err();
    assert!(error.message.contains("version 99"), "{}", error.message);
    let after = files(&after_a_crash);
    for (name, content) in before {
        assert!(after[&name] == content, "{name:?} is untouched");
    }
    // The same behind a link.
    #[cfg(unix)]
    {
        let link = dir.path().join("link.db");
        std::os::unix::fs::symlink(&at, &link).unwrap();
        assert!(Desk::open(&link, Clock::default()).is_err());
        assert!(files(&after_a_crash) == after, "untouched through a link");
    }
}
