//! Signing in: nobody acts as somebody else, whatever the screen or the command line asks for.
#![allow(clippy::disallowed_methods, reason = "tests")]

use std::path::PathBuf;

use crate::driver::{assistant, clock, optician, scenario};
use rimbook::testing::book::desk::{Desk, Erasure, ErrorKind, Security, SecurityChange};
use rimbook::testing::job::{Contact, Gate, Job, QuestionTo, Reason, Repair, Section};
use rimbook::testing::judge::gate::Severity;
use serde_json::json;

const OPTICIAN: &str = "Ines Calloway";
const ASSISTANT: &str = "Nadia Brookwell";
const ON: Security = Security {
    sign_in: true,
    idle_minutes: 5,
};

/// A book with signing in turned on and nobody signed in.
fn book() -> (tempfile::TempDir, PathBuf, Desk) {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    let mut desk = Desk::create(&path, clock()).unwrap();
    desk.add_staff(optician()).unwrap();
    desk.add_staff(assistant()).unwrap();
    desk.import(&scenario("S12")["job"].to_string(), Some(OPTICIAN))
        .unwrap();
    // A collected pair, and its recheck that decided on a remake.
    let mut pair = scenario("S01")["job"].clone();
    (pair["past"], pair["stage"], pair["number"]) =
        (json!(true), json!("collected"), json!("1002"));
    desk.import(&pair.to_string(), Some(OPTICIAN)).unwrap();
    let recheck = desk.recheck("1002", OPTICIAN).unwrap();
    assert_eq!(recheck.number, "1003");
    let decided = json!({"outcome": "remade", "cause": "height",
        "tried": ["move-height", "move-distance", "move-tilt", "move-turn"]});
    desk.record_visit("1003", OPTICIAN, &decided).unwrap();
    desk.set_secret(OPTICIAN, "4710", OPTICIAN).unwrap();
    desk.set_secret(ASSISTANT, "8253", ASSISTANT).unwrap();
    desk.set_security(ON, OPTICIAN).unwrap();
    (dir, path, desk)
}

fn repair() -> Repair {
    serde_json::from_value(json!({"kind": "checked"})).unwrap()
}

fn contact() -> Contact {
    serde_json::from_value(json!({"how": "letter"})).unwrap()
}

fn named() -> Job {
    serde_json::from_value(json!({"wearer": {"name": "A B"}})).unwrap()
}

fn erasure() -> Erasure<'static> {
    Erasure {
        number: "1002",
        whole_wearer: false,
        confirm: "1002",
        reason: "asked in writing",
    }
}

/// A program that whoever prints would run.
fn set_printing(desk: &mut Desk) -> Result<(), rimbook::testing::book::desk::DeskError> {
    let mut practice = desk.practice().unwrap();
    practice.set("print-command", "lp").unwrap();
    desk.set_practice(&practice, OPTICIAN)
}

/// The sentence of a refusal.
pub fn is_refused<T: std::fmt::Debug>(
    what: Result<T, rimbook::testing::book::desk::DeskError>,
) -> String {
    let error = what.unwrap_err();
    assert_eq!(error.kind, ErrorKind::Refused, "{error}");
    error.message
}

#[test]
fn while_it_is_off_a_name_is_enough() {
    let dir = tempfile::tempdir().unwrap();
    let mut desk = Desk::create(&dir.path().join("book.db"), clock()).unwrap();
    desk.add_staff(optician()).unwrap();
    assert!(!desk.security().unwrap().sign_in);
    desk.new_job("Wanda Holt", Some(OPTICIAN)).unwrap();
}

#[test]
fn nothing_is_written_by_nobody_or_in_anothers_name() {
    let (_dir, _path, mut desk) = book();
    let change = json!({"colour": "grey"});
    let found = json!({"found": "the left pad bent"});
    let numbers = desk.numbers().unwrap();
    let findings = desk
        .findings(&desk.load("1001").unwrap(), Gate::Ordered)
        .unwrap();
    let warning = findings
        .iter()
        .find(|f| f.is_open() && f.severity == Severity::Warning)
        .expect("a warning that could be accepted")
        .check
        .word();
    let tries = |desk: &mut Desk| {
        [
            desk.new_job("A B", Some(OPTICIAN)).map(drop),
            desk.new_job("A B", None).map(drop),
            desk.import(&scenario("S01")["job"].to_string(), None)
                .map(drop),
            desk.record("1001", Section::Frame, &change, None, Some(OPTICIAN))
                .map(drop),
            desk.record("1001", Section::Frame, &change, None, None)
                .map(drop),
            desk.advance("1001", Gate::Ordered, OPTICIAN, None)
                .map(drop),
            desk.send_back("1001", OPTICIAN, "scratched").map(drop),
            desk.cancel("1001", OPTICIAN, "moved away").map(drop),
            desk.ask("1001", OPTICIAN, QuestionTo::Prescriber, "which axis?")
                .map(drop),
            desk.answer("1001", OPTICIAN, None, "90").map(drop),
            desk.recheck("1001", OPTICIAN).map(drop),
            desk.begin_from("1001", Reason::SecondPair, OPTICIAN)
                .map(drop),
            desk.begin_from("1002", Reason::Reglaze, OPTICIAN).map(drop),
            desk.add_repair("1002", OPTICIAN, repair()).map(drop),
            desk.add_contact("1001", OPTICIAN, contact()).map(drop),
            desk.record_visit("1003", OPTICIAN, &found).map(drop),
            desk.record("1003", Section::Visit, &found, None, None)
                .map(drop),
            desk.begin_remake("1003", OPTICIAN).map(drop),
            desk.record_entry("1001", Section::Frame, &change, None, Some(OPTICIAN), None)
                .map(drop),
            desk.accept("1001", warning, None, OPTICIAN, "asked")
                .map(drop),
            desk.import_jobs(vec![named()], None).map(drop),
            desk.import_jobs(vec![named()], Some(OPTICIAN)).map(drop),
            desk.set_remake_price(Some(40), OPTICIAN),
            desk.set_retention(desk.retention().unwrap(), OPTICIAN),
            desk.give_access("Wanda Holt", "1960-01-01".parse().unwrap(), OPTICIAN)
                .map(drop),
            desk.erase(erasure(), OPTICIAN).map(drop),
            set_printing(desk),
            desk.set_practice(&desk.practice().unwrap(), OPTICIAN),
            desk.set_security(Security::default(), OPTICIAN),
            desk.set_secret(OPTICIAN, "9999x", OPTICIAN),
        ]
    };
    let before = desk.load("1001").unwrap();
    for (i, what) in tries(&mut desk).into_iter().enumerate() {
        assert!(what.is_err(), "try {i}");
        is_refused(what);
    }
    is_refused(desk.save_draft("1001", "frame.colour", "gre", None));
    desk.sign_in(ASSISTANT, "8253").unwrap();
    for what in tries(&mut desk).into_iter().enumerate().map(|(i, w)| {
        assert!(w.is_err(), "try {i}");
        w
    }) {
        is_refused(what);
    }
    assert_eq!(desk.load("1001").unwrap(), before);
    assert_eq!(desk.numbers().unwrap(), numbers);
    desk.record("1001", Section::Frame, &change, None, Some(ASSISTANT))
        .unwrap();
    desk.sign_out();
    is_refused(desk.record("1001", Section::Frame, &change, None, Some(ASSISTANT)));
}

#[test]
fn acting_above_ones_role_is_refused_at_the_core() {
    let (_dir, _path, mut desk) = book();
    desk.sign_in(ASSISTANT, "8253").unwrap();
    let practice = desk.practice().unwrap();
    for message in [
        is_refused(desk.set_practice(&practice, ASSISTANT)),
        is_refused(desk.set_security(Security::default(), ASSISTANT)),
        is_refused(desk.set_secret(OPTICIAN, "0471x", ASSISTANT)),
        is_refused(desk.add_staff(rimbook::testing::job::StaffMember {
            name: "Kit Marlow".to_owned(),
            ..optician()
        })),
    ] {
        assert!(message.contains(ASSISTANT), "{message}");
    }
    desk.sign_in(OPTICIAN, "4710").unwrap();
    desk.set_secret(ASSISTANT, "forgotten 3", OPTICIAN).unwrap();
    desk.sign_in(ASSISTANT, "forgotten 3").unwrap();
}

#[test]
fn wrong_attempts_are_slowed_and_a_new_start_does_not_help() {
    let (_dir, path, mut desk) = book();
    for _ in 0..3 {
        assert_eq!(
            is_refused(desk.sign_in(OPTICIAN, "0001")),
            "the PIN or passphrase is not right"
        );
    }
    drop(desk);
    // Another process, and one that takes another day for today.
    for fixed in [clock().fixed, None] {
        let mut desk = Desk::open(&path, rimbook::testing::book::clock::Clock { fixed }).unwrap();
        let message = is_refused(desk.sign_in(OPTICIAN, "4710"));
        assert!(message.starts_with("3 wrong attempts"), "{message}");
        assert_eq!(desk.signed_in(), None);
    }
    // Another person is not kept waiting.
    let mut desk = Desk::open(&path, clock()).unwrap();
    desk.sign_in(ASSISTANT, "8253").unwrap();
    assert_eq!(desk.signed_in(), Some(ASSISTANT));
}

#[test]
fn it_is_not_turned_on_by_somebody_who_would_be_shut_out() {
    let dir = tempfile::tempdir().unwrap();
    let mut desk = Desk::create(&dir.path().join("book.db"), clock()).unwrap();
    desk.add_staff(optician()).unwrap();
    desk.add_staff(assistant()).unwrap();
    assert!(is_refused(desk.set_security(ON, OPTICIAN)).contains("shut everybody out"));
    desk.set_secret(ASSISTANT, "8253", ASSISTANT).unwrap();
    assert!(is_refused(desk.set_security(ON, ASSISTANT)).contains("assistant"));
}

#[test]
fn of_two_desks_that_change_sign_in_neither_undoes_what_the_other_set() {
    let (_dir, path, mut desk) = book();
    let mut other = Desk::open(&path, clock()).unwrap();
    desk.sign_in(OPTICIAN, "4710").unwrap();
    other.sign_in(OPTICIAN, "4710").unwrap();
    let minutes = SecurityChange {
        idle_minutes: Some(9),
        ..SecurityChange::default()
    };
    other.change_security(minutes, OPTICIAN).unwrap();
    let off = SecurityChange {
        sign_in: Some(false),
        ..SecurityChange::default()
    };
    let set = desk.change_security(off, OPTICIAN).unwrap();
    assert_eq!((set.sign_in, set.idle_minutes), (false, 9));
    assert_eq!(desk.security().unwrap(), set);
}

#[test]
fn a_secret_that_is_there_is_not_replaced_by_a_name_alone() {
    let (_dir, path, _) = book();
    let mut desk = Desk::open(&path, clock()).unwrap();
    is_refused(desk.set_secret(OPTICIAN, "7777x", OPTICIAN));
    // Not even while signing in is off.
    desk.sign_in(OPTICIAN, "4710").unwrap();
    desk.set_security(Security::default(), OPTICIAN).unwrap();
    desk.sign_out();
    is_refused(desk.set_secret(OPTICIAN, "7777x", OPTICIAN));
    is_refused(desk.set_secret(OPTICIAN, "7777x", ASSISTANT));
}

#[test]
fn no_secret_lies_in_the_file() {
    let (dir, _path, mut desk) = book();
    desk.sign_in(OPTICIAN, "4710").unwrap();
    desk.set_secret(OPTICIAN, "correct horse 12", OPTICIAN)
        .unwrap();
    drop(desk);
    for entry in std::fs::read_dir(dir.path()).unwrap() {
        let bytes = std::fs::read(entry.unwrap().path()).unwrap();
        let found = bytes.windows(13).any(|w| w == b"correct horse");
        assert!(!found, "in clear");
    }
}
