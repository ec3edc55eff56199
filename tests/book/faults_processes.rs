//! Two and four processes that write to one book at the same time, with a model beside them:
//! nothing lost, nothing overwritten unseen, no job moved twice.
//!
//! The processes are this test binary itself, started again for the ignored test at the end.
//!
//! Long: a plain run tries less often (`tests/support/long.rs`).
#![cfg(unix)]
#![allow(clippy::disallowed_methods, reason = "tests")]

use crate::faults;

use std::collections::BTreeMap;

use crate::driver::{clock, optician, scenario};
use crate::faults::{Child, Dice, report, whole};
use crate::long::rounds;
use rimbook::testing::book::desk::{Desk, ErrorKind};
use rimbook::testing::job::{Gate, Section, Stage};
use serde_json::json;

const OPTICIAN: &str = "Ines Calloway";
/// Jobs that all the processes work on.
const SHARED: usize = 5;

/// A job that nothing holds; another wearer each time, for a second pair for the same is held.
fn job_of(wearer: &str) -> String {
    let mut job = scenario("S01")["job"].clone();
    job["wearer"]["name"] = json!(wearer);
    job.to_string()
}

/// A change that was acknowledged: what it made of the job, and the revision it was given.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Kept {
    what: String,
    revision: i64,
}

/// Starts so many processes at one book and holds what each was told against the book.
fn together(processes: u64, dice: &mut Dice) -> (usize, usize, usize) {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    let mut desk = Desk::create(&path, clock()).unwrap();
    desk.add_staff(optician()).unwrap();
    for n in 0..SHARED {
        desk.import(&job_of(&format!("Shared {n}")), None).unwrap();
    }
    drop(desk);
    let mut children: Vec<Child> = (0..processes)
        .map(|_| Child::start("faults_processes::works_beside_others", &path, dice.next()))
        .collect();
    for child in &mut children {
        assert_eq!(child.line().as_deref(), Some("ready"));
    }
    children.iter_mut().for_each(Child::go);

    let mut kept: BTreeMap<String, Vec<Kept>> = BTreeMap::new();
    let (mut stale, mut begun) = (0, 0);
    for child in children {
        let (well, lines) = child.end();
        assert!(well, "a process failed: {lines:?}");
        for line in lines {
            match line.split(' ').collect::<Vec<_>>()[..] {
                ["begun", number] => {
                    begun += 1;
                    let first = kept.insert(number.to_owned(), Vec::new());
                    assert!(first.is_none(), "number {number} was given twice");
                }
                ["kept", number, what, revision] => {
                    kept.entry(number.to_owned()).or_default().push(Kept {
                        what: what.to_owned(),
                        revision: revision.parse().unwrap(),
                    });
                }
                ["stale"] => stale += 1,
                ["done"] => {}
                _ => panic!("{line:?}"),
            }
        }
    }
    let changes = kept.values().map(Vec::len).sum();
    compare(&path, &kept, begun);
    (changes, begun, stale)
}

fn compare(path: &std::path::Path, kept: &BTreeMap<String, Vec<Kept>>, begun: usize) {
    let desk = Desk::open(path, clock()).unwrap();
    let numbers = desk.numbers().unwrap();
    assert_eq!(
        numbers.len(),
        SHARED + begun,
        "every job that was begun, no other"
    );
    for number in numbers {
        let mut told = kept.get(&number).cloned().unwrap_or_default();
        told.sort_by_key(|k| k.revision);
        let open = desk.load(&number).unwrap();
        let revisions: Vec<i64> = told.iter().map(|k| k.revision).collect();
        let every: Vec<i64> = (2..=open.revision).collect();
        // Each change was made on top of the one before it, and none was made twice.
        assert_eq!(revisions, every, "job {number}");
        let happened: Vec<String> = desk.history(&number).unwrap()[1..]
            .iter()
            .map(|e| match e.what.as_str() {
                "recorded" => e.detail["change"]["colour"].as_str().unwrap().to_owned(),
                other => other.to_owned(),
            })
            .collect();
        let told: Vec<String> = told.into_iter().map(|k| k.what).collect();
        assert_eq!(happened, told, "job {number}: in this order, nothing else");
        let moves = happened.iter().filter(|w| *w == "moved").count();
        let stands = open.job.stage();
        assert_eq!(moves, usize::from(stands == Stage::Ordered), "job {number}");
        let newest = happened.iter().rev().find(|w| *w != "moved");
        if let Some(newest) = newest {
            assert_eq!(open.job.frame.colour.as_ref(), Some(newest), "job {number}");
        }
    }
    drop(desk);
    whole(path);
}

fn several(processes: u64, seed: u64) {
    let mut dice = Dice::new(seed);
    let (mut changes, mut begun, mut stale) = (0, 0, 0);
    for _ in 0..rounds(1, 3) {
        let found = together(processes, &mut dice);
        changes += found.0;
        begun += found.1;
        stale += found.2;
    }
    report(&format!(
        "{processes} processes: {changes} changes kept and {begun} jobs begun, {stale} refused as stale; nothing lost"
    ));
}

#[test]
fn what_two_processes_were_told_is_kept_is_there_in_an_order_that_each_can_have_seen() {
    several(2, 1);
}

#[test]
fn what_four_processes_were_told_is_kept_is_there_in_an_order_that_each_can_have_seen() {
    several(4, 2);
}

/// Works on the jobs of the book beside others: changes, moves, new jobs.
#[test]
#[ignore = "the process that another test starts"]
fn works_beside_others() {
    let (path, mut dice) = faults::given();
    let me = dice.next();
    let mut desk = Desk::open(&path, clock()).unwrap();
    faults::say("ready");
    faults::wait_for_the_other_side();
    let numbers = desk.numbers().unwrap();
    for step in 0..50 {
        let at = usize::try_from(dice.below(numbers.len() as u64)).unwrap();
        let number = &numbers[at];
        if dice.below(10) == 0 {
            let job = job_of(&format!("Own {me} {step}"));
            let begun = patiently(|| desk.import(&job, Some(OPTICIAN))).unwrap();
            faults::say(&format!("begun {}", begun.numbers[0]));
            continue;
        }
        let read = desk.load(number).unwrap();
        let revision = Some(read.revision);
        let done = if dice.below(5) == 0 && read.job.stage() == Stage::Measured {
            patiently(|| desk.advance(number, Gate::Ordered, OPTICIAN, revision)).map(|a| {
                assert!(a.moved, "{:?}", a.findings);
                ("moved".to_owned(), read.revision + 1)
            })
        } else {
            let colour = format!("{me}-{step}");
            let change = json!({"colour": colour});
            let by = Some(OPTICIAN);
            patiently(|| desk.record(number, Section::Frame, &change, revision, by))
                // What is answered may hold later changes of others already.
                .map(|_| (colour, read.revision + 1))
        };
        match done {
            Ok((what, revision)) => faults::say(&format!("kept {number} {what} {revision}")),
            Err(e) if e.kind == ErrorKind::Stale => faults::say("stale"),
            Err(e) => panic!("{e}"),
        }
    }
    faults::say("done");
}

/// Tries again while another process is writing: a refusal for that reason changed nothing.
fn patiently<T>(
    mut act: impl FnMut() -> Result<T, rimbook::testing::book::desk::DeskError>,
) -> Result<T, rimbook::testing::book::desk::DeskError> {
    let mut tries = 0;
    loop {
        match act() {
            Err(e) if e.kind == ErrorKind::Busy && tries < 20 => tries += 1,
            other => return other,
        }
    }
}
