//! Copies of a book hold nothing that a PIN could be guessed against, and what becomes of sign-in where
//! one is restored.

#![allow(clippy::disallowed_methods, reason = "tests look into the file")]

use std::path::{Path, PathBuf};

use crate::driver::{assistant, clock, optician};
use rimbook::testing::book::desk::{Desk, ErrorKind, PlanChange, Restore, Security, restore};

const OPTICIAN: &str = "Ines Calloway";
const ASSISTANT: &str = "Nadia Brookwell";
const ON: Security = Security {
    sign_in: true,
    idle_minutes: 5,
};

/// A book in which everybody signs in, and where its backups go.
fn book(place: &Path) -> (PathBuf, PathBuf, Desk) {
    let (path, backups) = (place.join("book.db"), place.join("backups"));
    let mut desk = Desk::create(&path, clock()).unwrap();
    desk.add_staff(optician()).unwrap();
    desk.add_staff(assistant()).unwrap();
    desk.set_secret(OPTICIAN, "4710", OPTICIAN).unwrap();
    desk.set_secret(ASSISTANT, "8253", ASSISTANT).unwrap();
    desk.set_security(ON, OPTICIAN).unwrap();
    desk.sign_in(OPTICIAN, "4710").unwrap();
    let change = PlanChange {
        dir: Some(backups.clone()),
        ..PlanChange::default()
    };
    desk.set_backup_plan(&change, OPTICIAN).unwrap();
    desk.sign_out();
    (path, backups, desk)
}

fn is_refused<T: std::fmt::Debug>(
    what: Result<T, rimbook::testing::book::desk::DeskError>,
) -> String {
    let error = what.unwrap_err();
    assert_eq!(error.kind, ErrorKind::Refused, "{error}");
    error.message
}

fn put_back(file: &Path, book: &Path, by: &str, secret: Option<&str>) -> Result<(), String> {
    let what = Restore {
        file,
        book,
        by,
        secret,
    };
    restore(what, clock()).map(drop).map_err(|e| e.message)
}

#[test]
fn a_backup_that_nobody_signed_for_holds_nothing_to_guess_a_pin_from() {
    let dir = tempfile::tempdir().unwrap();
    let (path, _, mut desk) = book(dir.path());
    let hashes: Vec<String> = {
        let c = rusqlite::Connection::open(&path).unwrap();
        let mut all = c.prepare("SELECT secret FROM credential").unwrap();
        let all = all.query_map([], |r| r.get(0)).unwrap();
        all.map(Result::unwrap).collect()
    };
    assert_eq!(hashes.len(), 2);
    let copied = desk.back_up(None).unwrap().copied;
    let bytes = std::fs::read(&copied.file).unwrap();
    for hash in hashes {
        let found = bytes.windows(hash.len()).any(|w| w == hash.as_bytes());
        assert!(!found, "a hash of a PIN lies in the copy");
    }
    let mut copy = Desk::open(&copied.file, clock()).unwrap();
    assert!(copy.with_secret().unwrap().is_empty());
    is_refused(copy.sign_in(OPTICIAN, "4710"));
    // The book itself is as it was.
    assert_eq!(desk.with_secret().unwrap().len(), 2);
    desk.sign_in(OPTICIAN, "4710").unwrap();
}

#[test]
fn a_copy_into_any_other_directory_needs_somebody() {
    let dir = tempfile::tempdir().unwrap();
    let (_, backups, mut desk) = book(dir.path());
    let elsewhere = dir.path().join("stick");
    let said = is_refused(desk.back_up(Some(&elsewhere)));
    assert!(said.contains("another directory"), "{said}");
    assert!(!elsewhere.exists());
    desk.back_up(Some(&backups)).unwrap();
    desk.sign_in(ASSISTANT, "8253").unwrap();
    desk.back_up(Some(&elsewhere)).unwrap();
}

#[test]
fn on_the_same_machine_everybody_goes_on_with_the_present_pin() {
    let dir = tempfile::tempdir().unwrap();
    let (path, _, mut desk) = book(dir.path());
    let copied = desk.back_up(None).unwrap().copied;
    desk.sign_in(ASSISTANT, "8253").unwrap();
    desk.set_secret(ASSISTANT, "forgotten 3", ASSISTANT)
        .unwrap();
    drop(desk);
    put_back(&copied.file, &path, OPTICIAN, Some("4710")).unwrap();
    let mut desk = Desk::open(&path, clock()).unwrap();
    desk.sign_in(OPTICIAN, "4710").unwrap();
    is_refused(desk.sign_in(ASSISTANT, "8253"));
    desk.sign_in(ASSISTANT, "forgotten 3").unwrap();
}

#[test]
fn on_another_machine_a_registered_person_sets_the_first_pin_with_the_recovery_code() {
    let dir = tempfile::tempdir().unwrap();
    let (_, _, mut desk) = book(dir.path());
    is_refused(desk.new_sign_in_code(OPTICIAN));
    desk.sign_in(ASSISTANT, "8253").unwrap();
    is_refused(desk.new_sign_in_code(ASSISTANT));
    desk.sign_in(OPTICIAN, "4710").unwrap();
    let old = desk.new_sign_in_code(OPTICIAN).unwrap();
    let code = desk.new_sign_in_code(OPTICIAN).unwrap();
    assert_eq!(code.chars().filter(char::is_ascii_hexdigit).count(), 32);
    let copied = desk.back_up(None).unwrap().copied;
    drop(desk);

    let other = tempfile::tempdir().unwrap();
    let path = other.path().join("book.db");
    for (by, secret) in [
        (OPTICIAN, None),
        (OPTICIAN, Some("4710")),
        (OPTICIAN, Some(old.as_str())),
        (ASSISTANT, Some(code.as_str())),
    ] {
        put_back(&copied.file, &path, by, secret).unwrap_err();
        assert!(!path.exists());
    }
    put_back(&copied.file, &path, OPTICIAN, Some(&code)).unwrap();
    let mut desk = Desk::open(&path, clock()).unwrap();
    assert!(desk.lacks_every_secret().unwrap());
    is_refused(desk.set_secret(OPTICIAN, "5021x", OPTICIAN));
    is_refused(desk.set_first_secret(ASSISTANT, "5021x", Some(&code)));
    is_refused(desk.set_first_secret(OPTICIAN, "5021x", None));
    is_refused(desk.set_first_secret(OPTICIAN, "5021x", Some("0000")));
    let typed = code.to_uppercase().replace('-', " ");
    desk.set_first_secret(OPTICIAN, "5021x", Some(&typed))
        .unwrap();
    assert_eq!(desk.signed_in(), Some(OPTICIAN));
    // From then on as ever: the code is no second way in.
    is_refused(desk.set_first_secret(OPTICIAN, "6021x", Some(&code)));
    desk.set_secret(ASSISTANT, "7021x", OPTICIAN).unwrap();
    desk.sign_in(ASSISTANT, "7021x").unwrap();
}

#[test]
fn without_a_code_ever_made_a_registered_persons_name_begins_again_and_history_says_so() {
    let dir = tempfile::tempdir().unwrap();
    let (_, _, mut desk) = book(dir.path());
    let copied = desk.back_up(None).unwrap().copied;
    let other = tempfile::tempdir().unwrap();
    let path = other.path().join("book.db");
    put_back(&copied.file, &path, ASSISTANT, None).unwrap_err();
    put_back(&copied.file, &path, OPTICIAN, None).unwrap();
    let mut desk = Desk::open(&path, clock()).unwrap();
    is_refused(desk.new_job("A B", Some(OPTICIAN)));
    is_refused(desk.set_first_secret(ASSISTANT, "5021x", None));
    desk.set_first_secret(OPTICIAN, "5021x", None).unwrap();
    drop(desk);
    let c = rusqlite::Connection::open(&path).unwrap();
    let detail: String = c
        .query_row(
            "SELECT detail FROM history_detail ORDER BY id DESC LIMIT 1",
            [],
            |r| r.get(0),
        )
        .unwrap();
    assert!(detail.contains("\"with_code\":false"), "{detail}");
}
