//! What is worked out once and shown often is still what the book holds: what a deed hands back, the
//! lists after it, many jobs judged on two cores; and nobody who looks keeps anybody from writing.
#![allow(clippy::disallowed_methods, reason = "tests")]

use std::path::Path;

use crate::driver::{Driver, clock, scenario};
use rimbook::testing::book::demo::build_many;
use rimbook::testing::book::desk::{Desk, JobWithFindings, Judged, ListFilter};
use rimbook::testing::job::{Gate, Section, StaffMember, Stage};
use serde_json::Value;

/// What the desk says of a job when it is read and judged from the beginning.
fn read_again(path: &Path, desk: &Desk, number: &str) -> JobWithFindings {
    let fresh = Desk::open(
        path,
        rimbook::testing::book::clock::Clock {
            fixed: Some(desk.today()),
        },
    )
    .unwrap();
    let open = fresh.load(number).unwrap();
    let gate = open.job.stage().next_gate();
    let findings = match gate.filter(|_| !open.job.is_past()) {
        Some(gate) => fresh.findings(&open, gate).unwrap(),
        None => Vec::new(),
    };
    JobWithFindings { open, findings }
}

#[test]
fn what_a_deed_hands_back_is_what_the_book_holds() {
    const MARKS: &str = "adjusted_after_heights";
    let all: Value = serde_json::from_str(include_str!("../data/scenarios.json")).unwrap();
    let (mut records, mut moves, mut marked) = (0, 0, 0);
    for scenario in all["scenarios"].as_array().unwrap() {
        // Those with one job and the plain steps; the others are played at the desk.
        let plain = ["check", "record", "advance", "accept", "send_back"];
        let is_plain = |step: &Value| plain.contains(&step["do"].as_str().unwrap());
        let steps = scenario["steps"].as_array().unwrap();
        if !scenario["job"].is_object() || !steps.iter().all(is_plain) {
            continue;
        }
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("book.db");
        let today = scenario["today"].as_str().unwrap().parse().unwrap();
        let mut desk = Desk::create(
            &path,
            rimbook::testing::book::clock::Clock { fixed: Some(today) },
        )
        .unwrap();
        for member in scenario["staff"].as_array().unwrap() {
            desk.add_staff(serde_json::from_value::<StaffMember>(member.clone()).unwrap())
                .unwrap();
        }
        let imported = desk.import(&scenario["job"].to_string(), None).unwrap();
        let number = &imported.numbers[0];
        for step in scenario["steps"].as_array().unwrap() {
            let by = step["as"].as_str().unwrap_or_default();
            match step["do"].as_str().unwrap() {
                "record" => {
                    let section = Section::from_word(step["section"].as_str().unwrap()).unwrap();
                    let before = desk.load(number).unwrap().job.section(section).unwrap();
                    let (standing, back, _) = desk
                        .record_entry(number, section, &step["value"], None, None, None)
                        .unwrap();
                    assert_eq!(standing, read_again(&path, &desk, number));
                    // Taking it back leads to what was there, as far as JSON tells it.
                    let (undone, _, _) =
                        desk.undo_entry(number, section, &back, None, None).unwrap();
                    // That the frame was adjusted in between is not forgotten with it.
                    let mut after = undone.open.job.section(section).unwrap();
                    if section == Section::Handover {
                        let marks = after.as_object_mut().unwrap().remove(MARKS);
                        marked += usize::from(marks.is_some());
                    }
                    assert_eq!(after, before);
                    desk.record(number, section, &step["value"], None, None)
                        .unwrap();
                    records += 1;
                }
                "advance" => {
                    let gate = Gate::from_word(step["to"].as_str().unwrap()).unwrap();
                    let (advance, standing) = desk.advance_to(number, gate, by, None).unwrap();
                    assert_eq!(advance.moved, standing.is_some());
                    if let Some(standing) = standing {
                        assert_eq!(standing, read_again(&path, &desk, number));
                        moves += 1;
                    }
                }
                "accept" => {
                    let (check, eye) = (step["check"].as_str().unwrap(), step["eye"].as_str());
                    let reason = step["reason"].as_str().unwrap();
                    desk.accept(number, check, eye, by, reason).unwrap();
                }
                "send_back" => {
                    let reason = step["reason"].as_str().unwrap();
                    let open = desk.send_back(number, by, reason).unwrap();
                    assert_eq!(open, read_again(&path, &desk, number).open);
                }
                _ => {}
            }
        }
    }
    assert!(records > 5 && moves > 3, "{records} records, {moves} moves");
    assert!(
        marked > 0,
        "some handover is recorded again after an adjustment"
    );
}

#[test]
fn the_lists_show_a_deed_wherever_they_come_to_be_shown() {
    let mut d = Driver::signed_in(&[scenario("S01")["job"].clone()]);
    d.keys(&["enter", "alt-1", "home", "Another Name", "enter"]);
    assert_eq!(
        d.in_book().job.wearer.name.as_deref(),
        Some("Another Name"),
        "{}",
        d.screen(80, 24)
    );
    d.keys(&["esc"]);
    assert_eq!(d.app.lines[0].wearer, "Another Name");
    assert!(d.screen(80, 24).contains("Another Name"));
}

fn many(dir: &Path, jobs: usize) -> (std::path::PathBuf, Desk) {
    let at = dir.join("book.db");
    let mut desk = Desk::create(&at, clock()).unwrap();
    build_many(&mut desk, jobs, 7).unwrap();
    (at, desk)
}

#[test]
fn many_jobs_are_judged_in_order_as_one_by_one() {
    let dir = tempfile::tempdir().unwrap();
    let (_, desk) = many(dir.path(), 1500);
    let mut judged: Vec<Judged> = Vec::new();
    desk.judge_open(|one| {
        judged.push(one);
        Ok(())
    })
    .unwrap();
    let lines = desk.worklist().unwrap();
    assert!(
        lines.len() > 64,
        "{} open jobs: more than two batches",
        lines.len()
    );
    assert_eq!(judged.len(), lines.len());
    for (one, line) in judged.iter().zip(&lines) {
        assert_eq!(one.open, desk.load(&line.number).unwrap());
        let gate = one.open.job.stage().next_gate();
        assert_eq!(one.gate, gate);
        assert_eq!(
            one.findings,
            desk.findings(&one.open, gate.unwrap()).unwrap()
        );
    }
    // What is told may end it.
    let mut told = 0;
    let ended = desk.judge_open(|_| {
        told += 1;
        if told == 40 {
            return Err(rimbook::testing::book::desk::DeskError::new(
                rimbook::testing::book::desk::ErrorKind::Input,
                "enough",
            ));
        }
        Ok(())
    });
    assert_eq!((ended.unwrap_err().message.as_str(), told), ("enough", 40));
}

/// Whether the log can be put into the file and emptied: it cannot while anybody holds a read.
fn nobody_reads(at: &Path) -> bool {
    let c = rusqlite::Connection::open(at).unwrap();
    c.busy_timeout(std::time::Duration::ZERO).unwrap();
    c.execute_batch("UPDATE setting SET content = content")
        .expect("no look keeps a writer waiting");
    let busy: i64 = c
        .query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |r| r.get(0))
        .unwrap();
    busy == 0
}

#[test]
fn nobody_who_waits_for_a_key_or_a_reader_holds_the_book() {
    let dir = tempfile::tempdir().unwrap();
    let (at, desk) = many(dir.path(), 1500);
    assert!(nobody_reads(&at));
    let mut pages = 0;
    desk.each_line(
        &ListFilter {
            stage: Some(Stage::Collected),
            ..ListFilter::default()
        },
        |lines| {
            assert!(lines.len() <= 500);
            pages += 1;
            assert!(nobody_reads(&at), "page {pages}");
            Ok(())
        },
    )
    .unwrap();
    assert!(pages >= 3);
    desk.judge_open(|_| {
        assert!(nobody_reads(&at));
        Ok(())
    })
    .unwrap();
    drop(desk);
    let mut d = Driver::on(at.clone());
    for keys in ["down", "enter", "alt-4", "esc", "/", "h", "a", "esc", "g"] {
        d.keys(&[keys]);
        assert!(nobody_reads(&at), "after {keys}");
    }
}
