//! The calendar of collections: read back by another's reader, line by line as RFC 5545 wants it,
//! and nothing of a wearer in it.

use std::collections::BTreeMap;
use std::path::Path;
use std::process::Command;

use chrono::{NaiveDate, NaiveDateTime, TimeDelta};
use icalendar::parser::{read_calendar, unfold};
use proptest::prelude::*;
use rimbook::testing::book::desk::Desk;
use rimbook::testing::exchange::calendar::{Appointment, uid, write};
use rimbook::testing::job::Section;
use rimbook::testing::text::printable;
use serde_json::{Value, json};

use crate::driver::{Driver, clock, optician, scenario};

type Event = BTreeMap<String, String>;

/// The events of a calendar as another program reads them.
fn events(text: &str) -> Vec<Event> {
    let unfolded = unfold(text);
    let calendar = read_calendar(&unfolded).unwrap();
    let head: Vec<(&str, &str)> = calendar
        .properties
        .iter()
        .map(|p| (p.name.as_ref(), p.val.as_ref()))
        .collect();
    assert!(head.contains(&("VERSION", "2.0")), "{head:?}");
    assert!(head.iter().any(|(name, _)| *name == "PRODID"), "{head:?}");
    calendar
        .components
        .iter()
        .map(|component| {
            assert_eq!(component.name.as_ref(), "VEVENT");
            component
                .properties
                .iter()
                .map(|p| {
                    // Texts are read without their escapes already.
                    (p.name.as_ref().to_owned(), p.val.as_ref().to_owned())
                })
                .collect()
        })
        .collect()
}

fn moment(text: &str) -> NaiveDateTime {
    NaiveDateTime::parse_from_str(text, "%Y%m%dT%H%M%SZ").unwrap()
}

/// Ends and lengths of lines as the standard has them.
fn is_laid_out(text: &str) {
    assert!(text.ends_with("\r\n"));
    assert_eq!(
        text.matches('\n').count(),
        text.matches("\r\n").count(),
        "every line ends with both"
    );
    assert_eq!(text.matches('\r').count(), text.matches("\r\n").count());
    for line in text.split("\r\n") {
        assert!(line.len() <= 75, "{} octets: {line}", line.len());
    }
}

fn appointments() -> impl Strategy<Value = Appointment> {
    let seconds = 0_i64..4_000_000_000;
    (
        "\\PC{0,120}|[ -~]{0,90}|[,;\\\\\n\t\u{1b}明é]{0,60}",
        seconds.clone(),
        1_u32..2000,
        seconds,
        0..u32::MAX / 2,
        any::<bool>(),
    )
        .prop_map(|(number, start, minutes, changed, sequence, cancelled)| {
            let at = |s| {
                let first = NaiveDate::from_ymd_opt(1970, 1, 1).unwrap();
                first.and_hms_opt(0, 0, 0).unwrap() + TimeDelta::seconds(s)
            };
            Appointment {
                uid: uid("a book", &number),
                number,
                starts_at: at(start),
                minutes,
                changed_at: at(changed),
                sequence,
                cancelled,
            }
        })
}

proptest! {
    #[test]
    fn what_is_written_is_read_back(all in prop::collection::vec(appointments(), 1..5)) {
        let text = write(&all).unwrap();
        is_laid_out(&text);
        let read = events(&text);
        prop_assert_eq!(read.len(), all.len());
        for (event, a) in read.iter().zip(&all) {
            let summary = format!("Collection {}", printable(&a.number));
            // A reader leaves blanks at the end of a line out.
            prop_assert_eq!(event["SUMMARY"].trim_end(), summary.trim_end());
            prop_assert_eq!(&event["UID"], &a.uid);
            prop_assert_eq!(moment(&event["DTSTART"]), a.starts_at);
            prop_assert_eq!(moment(&event["DTSTAMP"]), a.changed_at);
            prop_assert_eq!(&event["DURATION"], &format!("PT{}M", a.minutes));
            prop_assert_eq!(&event["SEQUENCE"], &a.sequence.to_string());
            let status = if a.cancelled { "CANCELLED" } else { "CONFIRMED" };
            prop_assert_eq!(&event["STATUS"], status);
            prop_assert_eq!(&event["CLASS"], "PRIVATE");
            prop_assert_eq!(event.len(), 8, "nothing else stands there: {:?}", event);
        }
    }

    #[test]
    fn an_id_is_that_of_one_book_and_one_job(a in ".{0,12}", b in ".{0,12}", c in ".{0,12}", d in ".{0,12}") {
        prop_assert_eq!(uid(&a, &b) == uid(&c, &d), (a, b) == (c, d));
    }
}

#[test]
fn an_id_is_a_uuid_and_says_nothing() {
    let id = uid("5f0c", "1042");
    assert_eq!(id, uid("5f0c", "1042"));
    assert!(!id.contains("1042"));
    let parts: Vec<usize> = id.split('-').map(str::len).collect();
    assert_eq!(parts, [8, 4, 4, 4, 12]);
    assert_eq!(id.chars().nth(14), Some('8'), "version 8: {id}");
    assert!(matches!(id.chars().nth(19), Some('8' | '9' | 'a' | 'b')));
}

#[test]
fn without_appointments_there_is_no_calendar() {
    assert_eq!(write(&[]), None);
}

/// A book with two open jobs that have appointments, and one that has none.
fn book() -> Driver {
    let mut first = scenario("S01")["job"].clone();
    first["collection_at"] = json!("2026-10-24T15:30");
    first["wearer"]["phone"] = json!("01777 900 112");
    first["wearer"]["email"] = json!("maribel@thorncroft.example");
    let mut second = scenario("S01")["job"].clone();
    second["wearer"]["name"] = json!("Bela Quist");
    second["collection_at"] = json!("2026-10-26T09:05");
    let third = scenario("S01")["job"].clone();
    Driver::with(&[first, second, third])
}

/// What the program writes to standard output.
fn run(book: &Path, zone: &str, arguments: &[&str]) -> String {
    let done = Command::new(env!("CARGO_BIN_EXE_rimbook"))
        .arg("calendar")
        .args(arguments)
        .env("RIMBOOK_DB", book)
        .env("RIMBOOK_TODAY", "2026-10-12")
        .env("TZ", zone)
        .output()
        .unwrap();
    assert!(
        done.status.success(),
        "{}",
        String::from_utf8_lossy(&done.stderr)
    );
    String::from_utf8(done.stdout).unwrap()
}

#[test]
fn the_time_of_an_appointment_is_the_practices_own_on_that_day() {
    let d = book();
    // An hour is put back between the two: the rule is said in the zone itself.
    let text = run(&d.path, "CET-1CEST,M3.5.0,M10.5.0/3", &[]);
    is_laid_out(&text);
    let starts: Vec<String> = events(&text).iter().map(|e| e["DTSTART"].clone()).collect();
    assert_eq!(starts, ["20261024T133000Z", "20261026T080500Z"]);
    let text = run(
        &d.path,
        "UTC0",
        &["--from", "2026-10-25", "--minutes", "20"],
    );
    let read = events(&text);
    assert_eq!(read.len(), 1, "{text}");
    assert_eq!(read[0]["DTSTART"], "20261026T090500Z");
    assert_eq!(read[0]["DURATION"], "PT20M");
    let none = run(&d.path, "UTC0", &["--days", "3"]);
    assert_eq!(none, "");
}

#[test]
fn times_that_a_clock_shows_twice_or_never_are_taken_as_the_guide_says() {
    let mut twice = scenario("S01")["job"].clone();
    twice["collection_at"] = json!("2026-10-25T02:30");
    let mut never = scenario("S01")["job"].clone();
    never["collection_at"] = json!("2027-03-28T02:30");
    let d = Driver::with(&[twice, never]);
    let text = run(&d.path, "CET-1CEST,M3.5.0,M10.5.0/3", &["--days", "300"]);
    let starts: Vec<String> = events(&text).iter().map(|e| e["DTSTART"].clone()).collect();
    assert_eq!(starts, ["20261025T003000Z", "20270328T013000Z"]);
}

#[test]
fn a_moved_appointment_keeps_its_id_and_counts_on_and_a_cancelled_job_gives_it_up() {
    let d = book();
    let before = events(&run(&d.path, "UTC0", &[]));
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    let by = optician().name;
    desk.record(
        "1001",
        Section::Job,
        &json!({"collection_at": "2026-10-25T10:00"}),
        None,
        Some(&by),
    )
    .unwrap();
    desk.cancel("1002", &by, "moved away").unwrap();
    let after = events(&run(&d.path, "UTC0", &[]));
    assert_eq!(after.len(), 2);
    for (old, new) in before.iter().zip(&after) {
        assert_eq!(old["UID"], new["UID"]);
        let count = |e: &Event| e["SEQUENCE"].parse::<u32>().unwrap();
        assert!(count(new) > count(old), "{old:?} {new:?}");
    }
    assert_ne!(before[0]["UID"], before[1]["UID"]);
    assert_eq!(after[0]["DTSTART"], "20261025T100000Z");
    assert_eq!(after[0]["STATUS"], "CONFIRMED");
    assert_eq!(after[1]["STATUS"], "CANCELLED");
}

/// Every text and number of a job that could say something of its wearer.
fn told(value: &Value, into: &mut Vec<String>) {
    match value {
        Value::Object(map) => map.values().for_each(|v| told(v, into)),
        Value::Array(list) => list.iter().for_each(|v| told(v, into)),
        Value::String(text) => {
            into.push(text.clone());
            into.extend(text.split_whitespace().map(str::to_owned));
        }
        Value::Number(n) => into.push(n.to_string()),
        Value::Bool(_) | Value::Null => {}
    }
}

#[test]
fn nothing_of_the_wearer_is_in_the_bytes() {
    let d = book();
    let text = run(&d.path, "UTC0", &[]);
    let mut words = Vec::new();
    let desk = Desk::open(&d.path, clock()).unwrap();
    for number in ["1001", "1002"] {
        let job = desk.load(number).unwrap().job;
        for section in [
            Section::Wearer,
            Section::Prescription,
            Section::Fitting,
            Section::Frame,
            Section::Lenses,
            Section::Order,
        ] {
            told(&job.section(section).unwrap(), &mut words);
        }
    }
    // Whatever could stand there by chance, in times, ids and the words of the format, proves nothing.
    words.retain(|w| w.chars().count() > 3 && w.parse::<f64>().is_err());
    assert!(words.iter().any(|w| w == "Maribel Thorncroft"), "{words:?}");
    assert!(words.len() > 20);
    for word in words {
        assert!(
            !text.to_lowercase().contains(&word.to_lowercase()),
            "{word} stands in the calendar"
        );
    }
    // And nothing but what is meant to: each line begins with one of these.
    for line in text.split("\r\n").filter(|l| !l.is_empty()) {
        assert!(
            [
                "BEGIN:",
                "END:",
                "VERSION:2.0",
                "PRODID:-//rimbook//",
                "CALSCALE:GREGORIAN",
                "UID:",
                "DTSTAMP:",
                "DTSTART:",
                "DURATION:PT30M",
                "SEQUENCE:",
                "STATUS:",
                "CLASS:PRIVATE",
                "SUMMARY:Collection 100",
            ]
            .iter()
            .any(|known| line.starts_with(known)),
            "{line}"
        );
    }
}

#[test]
fn a_file_is_written_once_and_never_replaced() {
    let d = book();
    let file = d.path.with_file_name("collections.ics");
    let name = file.to_str().unwrap();
    let said = run(&d.path, "UTC0", &["--out", name]);
    assert!(said.starts_with("2 written to"), "{said}");
    let text = std::fs::read_to_string(&file).unwrap();
    assert_eq!(events(&text).len(), 2);
    let again = Command::new(env!("CARGO_BIN_EXE_rimbook"))
        .args(["calendar", "--out", name])
        .env("RIMBOOK_DB", &d.path)
        .env("RIMBOOK_TODAY", "2026-10-12")
        .output()
        .unwrap();
    assert_eq!(again.status.code(), Some(1));
    assert_eq!(std::fs::read_to_string(&file).unwrap(), text);
}
