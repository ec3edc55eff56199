//! Who waits, who was told: by keys, on the command line, and on the days on which it turns.

use std::process::Command;

use crate::driver::{Driver, clock, scenario, verify};
use rimbook::testing::book::clock::Clock;
use rimbook::testing::book::desk::{Desk, ErrorKind, Waiting};
use rimbook::testing::job::{Contact, ContactBy, Section};
use rimbook::testing::tui::effect::Effect;
use serde_json::{Value, json};

const BY: &str = "Ines Calloway";

/// A book with one pair that was passed on 2026-10-12 and has no appointment.
fn ready(collection_at: Option<&str>) -> Driver {
    let mut file = scenario("S01")["job"].clone();
    file["collection_at"] = json!(collection_at);
    file["order"]["due_on"] = json!("2026-10-12");
    let mut d = Driver::signed_in(&[file]);
    let number = d.app.lines[0].number.clone();
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    verify(&mut desk, &number, BY);
    d.run(vec![Effect::Reload]);
    d
}

fn on(d: &Driver, day: &str) -> Vec<Waiting> {
    let clock = Clock {
        fixed: Some(day.parse().unwrap()),
    };
    Desk::open(&d.path, clock).unwrap().waiting().unwrap()
}

#[test]
fn a_pair_counts_as_not_collected_from_the_day_of_the_limit_on() {
    let d = ready(None);
    for (day, uncollected) in [
        ("2026-10-12", false),
        ("2026-11-08", false),
        ("2026-11-09", true),
    ] {
        let waits = on(&d, day);
        assert_eq!(waits.len(), 1);
        assert_eq!(
            waits[0].uncollected, uncollected,
            "{day}: {} days",
            waits[0].days
        );
    }
    assert!(on(&d, "2026-10-12")[0].words().contains("nobody told"));
    // Told again, the days begin again.
    let clock = Clock {
        fixed: "2026-11-09".parse().ok(),
    };
    let mut desk = Desk::open(&d.path, clock).unwrap();
    let number = on(&d, "2026-11-09")[0].number.clone();
    let contact = Contact {
        at: rimbook::testing::job::Moment::parse("2026-11-09T10:00"),
        how: Some(ContactBy::Letter),
        ..Contact::default()
    };
    desk.add_contact(&number, BY, contact).unwrap();
    assert!(!on(&d, "2026-11-09")[0].uncollected);
    assert!(!on(&d, "2026-12-06")[0].uncollected);
    assert!(on(&d, "2026-12-07")[0].uncollected);
    assert!(
        on(&d, "2026-12-07")[0]
            .words()
            .contains("told 9 Nov letter")
    );
}

#[test]
fn the_limit_is_the_practices_own() {
    let d = ready(None);
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    let mut practice = desk.practice().unwrap();
    practice.set("uncollected-days", "10").unwrap();
    desk.set_practice(&practice, BY).unwrap();
    assert!(!on(&d, "2026-10-21")[0].uncollected);
    assert!(on(&d, "2026-10-22")[0].uncollected);
}

#[test]
fn who_has_an_appointment_ahead_does_not_wait_and_who_missed_it_does() {
    let d = ready(Some("2026-10-15T09:30"));
    assert!(on(&d, "2026-10-14").is_empty());
    assert!(on(&d, "2026-10-15").is_empty());
    let waits = on(&d, "2026-10-16");
    assert!(
        waits[0].words().contains("did not come 15 Oct"),
        "{}",
        waits[0].words()
    );
}

#[test]
fn telling_a_wearer_by_keys_is_kept_and_shown() {
    let mut d = ready(None);
    let screen = d.screen(80, 24);
    assert!(
        screen.contains("waiting since 12 Oct, nobody told"),
        "{screen}"
    );
    d.keys(&["t"]);
    assert!(d.screen(80, 24).contains("how was the wearer told?"));
    d.keys(&["down", "enter", "rang twice", "enter"]);
    assert!(d.said().contains("Noted"), "{}", d.said());
    let screen = d.screen(80, 24);
    assert!(screen.contains("tried"), "{screen}");
    let number = d.app.lines[0].number.clone();
    let desk = Desk::open(&d.path, clock()).unwrap();
    let contacts = desk.load(&number).unwrap().job.aftercare.contacts;
    assert_eq!(contacts.len(), 1);
    assert_eq!(contacts[0].told.as_deref(), Some("rang twice"));
    assert_eq!(
        (contacts[0].reached, contacts[0].by.as_deref()),
        (Some(false), Some(BY))
    );
    assert!(
        desk.history(&number)
            .unwrap()
            .iter()
            .any(|e| e.what == "wearer contacted")
    );

    // From the list of those who wait, on the other screen.
    d.keys(&["c", "u"]);
    assert!(
        d.screen(80, 24).contains("Ready and not collected"),
        "{}",
        d.screen(80, 24)
    );
    d.keys(&["enter", "enter", "enter"]);
    let contacts = Desk::open(&d.path, clock())
        .unwrap()
        .load(&number)
        .unwrap()
        .job
        .aftercare
        .contacts;
    assert_eq!(contacts.len(), 2, "each is added");
    assert_eq!(
        contacts[1].told.as_deref(),
        Some("the pair is ready to be collected")
    );
    assert_eq!(contacts[1].reached, Some(true));
}

fn rimbook(d: &Driver, today: &str, words: &[&str]) -> (i32, String) {
    let out = Command::new(env!("CARGO_BIN_EXE_rimbook"))
        .args(words)
        .env("RIMBOOK_DB", &d.path)
        .env("RIMBOOK_TODAY", today)
        .output()
        .unwrap();
    let text = String::from_utf8(out.stdout).unwrap();
    (out.status.code().unwrap(), text)
}

#[test]
fn the_command_line_records_contacts_and_lists_what_is_not_collected() {
    let d = ready(None);
    let number = d.app.lines[0].number.clone();
    let (status, text) = rimbook(&d, "2026-11-09", &["list", "--uncollected"]);
    assert_eq!(status, 0);
    assert!(
        text.contains(&number) && text.contains("nobody told"),
        "{text}"
    );
    let (status, text) = rimbook(&d, "2026-11-09", &["--json", "list", "--uncollected"]);
    let list: Value = serde_json::from_str(&text).unwrap();
    assert_eq!((status, list[0]["since"].as_str()), (0, Some("2026-10-12")));
    let told = [
        "contact",
        &number,
        "--how",
        "telephone",
        "--told",
        "ready",
        "--reached",
        "--as",
        BY,
    ];
    assert_eq!(rimbook(&d, "2026-11-09", &told).0, 0);
    let contacts = Desk::open(&d.path, clock())
        .unwrap()
        .load(&number)
        .unwrap()
        .job
        .aftercare
        .contacts;
    assert_eq!(contacts[0].how, Some(ContactBy::Telephone));
    assert_eq!(contacts[0].reached, Some(true));
    let (_, text) = rimbook(&d, "2026-11-09", &["list", "--uncollected"]);
    assert!(text.is_empty(), "told today: {text}");
    for wrong in [
        &["contact", &number, "--how", "shouting", "--as", BY][..],
        &["list", "--uncollected", "--held"],
    ] {
        assert_eq!(rimbook(&d, "2026-11-09", wrong).0, 2, "{wrong:?}");
    }
    assert_eq!(
        rimbook(
            &d,
            "2026-11-09",
            &["contact", &number, "--how", "letter", "--as", "Nobody"]
        )
        .0,
        1
    );
}

#[test]
fn what_was_said_is_not_dated_ahead_and_the_list_is_only_added_to() {
    let d = ready(None);
    let number = d.app.lines[0].number.clone();
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    let contact = |at: &str| -> Contact {
        serde_json::from_value(json!({"at": at, "how": "letter"})).unwrap()
    };
    let error = desk
        .add_contact(&number, BY, contact("2026-10-13T08:00"))
        .unwrap_err();
    assert!(error.message.contains("today is 2026-10-12"), "{error}");
    desk.add_contact(&number, BY, contact("2026-10-11T08:00"))
        .unwrap();
    for change in [
        json!({"contacts": []}),
        json!({"contacts": [{"how": "letter"}]}),
        json!({"contacts": null}),
        json!({"contacts": null, "repairs": []}),
        json!({"repairs": [{"kind": "checked"}]}),
    ] {
        let error = desk
            .record(&number, Section::Aftercare, &change, None, Some(BY))
            .unwrap_err();
        assert_eq!(error.kind, ErrorKind::Refused, "{error}");
    }
    let contacts = desk.load(&number).unwrap().job.aftercare.contacts;
    assert_eq!(contacts.len(), 1);
    assert_eq!(contacts[0].by.as_deref(), Some(BY));
}

#[test]
fn trying_in_vain_to_reach_a_wearer_puts_nothing_off() {
    let d = ready(None);
    let number = d.app.lines[0].number.clone();
    let say = |day: &str, reached: Option<bool>| {
        let clock = Clock {
            fixed: Some(day.parse().unwrap()),
        };
        let contact = Contact {
            how: Some(ContactBy::Telephone),
            reached,
            ..Contact::default()
        };
        Desk::open(&d.path, clock)
            .unwrap()
            .add_contact(&number, BY, contact)
            .unwrap();
    };
    say("2026-11-01", Some(false));
    // 28 days after 12 October.
    let waits = on(&d, "2026-11-09");
    assert!(waits[0].uncollected, "{waits:?}");
    assert!(waits[0].words().contains("tried"), "{waits:?}");
    say("2026-11-01", Some(true));
    assert!(!on(&d, "2026-11-28")[0].uncollected);
    assert!(on(&d, "2026-11-29")[0].uncollected);
}
