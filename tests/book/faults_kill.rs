//! Killed without warning: whatever was acknowledged is in the book afterwards, at whatever point
//! of writing, of a migration or of an import the process was killed.
//!
//! The processes that are killed are this test binary itself, started again to run one of the
//! ignored tests at the end. Long: a plain run kills a tenth as often (`tests/support/long.rs`); the
//! times at which a process is killed are random and nothing rests on them.
#![cfg(unix)]
#![allow(clippy::disallowed_methods, reason = "tests")]

use crate::faults;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use crate::driver::{clock, optician, scenario};
use crate::faults::{Child, Dice, whole};
use crate::long::rounds;
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::Section;
use rusqlite::Connection;
use serde_json::json;

const OPTICIAN: &str = "Ines Calloway";

/// What has been acknowledged: the colour and the revision of every job, and every draft.
#[derive(Debug, Default, Clone, PartialEq, Eq)]
struct Model {
    jobs: BTreeMap<String, (String, i64)>,
    drafts: BTreeMap<String, String>,
    events: u64,
}

impl Model {
    fn take(&mut self, line: &str) {
        let words: Vec<&str> = line.split(' ').collect();
        match words[..] {
            ["job", number] => {
                self.jobs.insert(number.to_owned(), (String::new(), 1));
                self.events += 1;
            }
            ["colour", number, colour, revision] => {
                let kept = (colour.to_owned(), revision.parse().unwrap());
                self.jobs.insert(number.to_owned(), kept);
                self.events += 1;
            }
            ["draft", number, text] => {
                self.drafts.insert(number.to_owned(), text.to_owned());
            }
            _ => panic!("acknowledged {line:?}"),
        }
    }

    /// The same, read from the book.
    fn of(path: &Path) -> Self {
        let desk = Desk::open(path, clock()).unwrap();
        let mut found = Self {
            // The person who was added is not counted.
            events: whole(path) - 1,
            ..Self::default()
        };
        for number in numbers(path) {
            let open = desk.load(&number).unwrap();
            let colour = open.job.frame.colour.clone().unwrap_or_default();
            found.jobs.insert(number.clone(), (colour, open.revision));
            for draft in desk.drafts(&number).unwrap() {
                found.drafts.insert(number.clone(), draft.text);
            }
        }
        found
    }
}

fn numbers(path: &Path) -> Vec<String> {
    let raw = Connection::open(path).unwrap();
    let mut statement = raw.prepare("SELECT number FROM job ORDER BY id").unwrap();
    let rows = statement.query_map([], |r| r.get(0)).unwrap();
    rows.map(Result::unwrap).collect()
}

/// A new book with one person in it.
fn begin(path: &Path) {
    let mut desk = Desk::create(path, clock()).unwrap();
    desk.add_staff(optician()).unwrap();
}

#[test]
fn killed_at_any_point_of_writing_no_acknowledged_change_is_lost() {
    let mut dice = Dice::new(1);
    let (kills, mut unacknowledged, mut acknowledged) = (rounds(30, 300), 0, 0);
    for book in 0..kills.div_ceil(30) {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("book.db");
        begin(&path);
        let mut model = Model::default();
        for kill in 0..30.min(kills - 30 * book) {
            let mut child =
                Child::start("faults_kill::writes_until_it_is_killed", &path, dice.next());
            for _ in 0..dice.below(10) {
                model.take(&child.line().expect("an acknowledgement"));
            }
            child.kill_within(Duration::from_micros(dice.below(3000)));
            let more = child.rest();
            for line in &more {
                model.take(line);
            }

            let found = Model::of(&path);
            let extra = found.events - model.events;
            assert!(extra <= 1, "book {book}, kill {kill}: {extra} too many");
            let differing = found
                .jobs
                .iter()
                .filter(|(number, stands)| model.jobs.get(*number) != Some(*stands))
                .count();
            assert_eq!(
                u64::try_from(differing).unwrap(),
                extra,
                "book {book}, kill {kill}: {model:?} was acknowledged, found {found:?}"
            );
            for (number, known) in &model.jobs {
                let stands = found.jobs.get(number).expect("an acknowledged job");
                assert!(
                    stands == known || stands.1 == known.1 + 1,
                    "book {book}, kill {kill}: job {number} stands at {stands:?}, not {known:?}"
                );
            }
            let drafts_ahead = found
                .drafts
                .iter()
                .filter(|(number, text)| model.drafts.get(*number) != Some(*text))
                .count();
            assert!(drafts_ahead <= 1 && found.drafts.len() >= model.drafts.len());
            unacknowledged += extra;
            acknowledged += 1;
            model = found;
        }
    }
    faults::report(&format!(
        "killed {acknowledged} times while writing: nothing lost, {unacknowledged} kept unacknowledged"
    ));
}

/// Writes to the book and says so on standard output, until it is killed.
#[test]
#[ignore = "the process that another test kills"]
fn writes_until_it_is_killed() {
    let (path, mut dice) = faults::given();
    let mut desk = Desk::open(&path, clock()).unwrap();
    let mut known: Vec<String> = numbers(&path);
    // Bounded, should nobody come to kill it.
    for step in 0..20_000 {
        let number = (!known.is_empty()).then(|| {
            let at = dice.below(known.len() as u64);
            known[usize::try_from(at).unwrap()].clone()
        });
        let said = match (dice.below(5), number) {
            (0, _) | (_, None) => {
                let begun = desk.new_job("Wearer", Some(OPTICIAN)).unwrap();
                known.push(begun.number.clone());
                format!("job {}", begun.number)
            }
            (1, Some(number)) => {
                let text = format!("typed-{step}-{}", dice.next());
                desk.save_draft(&number, "order.reference", &text, None)
                    .unwrap();
                format!("draft {number} {text}")
            }
            (_, Some(number)) => {
                let colour = format!("colour-{}", dice.next());
                let change = json!({"colour": colour});
                let open = desk
                    .record(&number, Section::Frame, &change, None, Some(OPTICIAN))
                    .unwrap();
                format!("colour {number} {colour} {}", open.revision)
            }
        };
        faults::say(&said);
    }
}

/// A book of version 1 with so much history that taking it over takes a while.
fn first_version(path: &Path) {
    let raw = Connection::open(path).unwrap();
    raw.execute_batch(include_str!("../../src/book/store/schema/0001_book.sql"))
        .unwrap();
    raw.execute_batch(
        "PRAGMA application_id = 1380535618; PRAGMA user_version = 1;
         INSERT INTO staff VALUES ('Ines Calloway', '{\"name\":\"Ines Calloway\",\"role\":\"optometrist\"}');
         INSERT INTO job VALUES (1, '1001', 'measured', 0, 900, 'Wanda Holt', 'wanda holt', NULL, '', NULL, NULL, NULL,
                                 '[]', '0001-01-01', NULL, '{\"wearer\":{\"name\":\"Wanda Holt\"}}');
         WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 900)
         INSERT INTO event SELECT i, 1, '2026-10-01T09:00:00', NULL, 'recorded', '{\"entry\":' || i || '}' FROM n;",
    )
    .unwrap();
}

#[test]
fn killed_at_any_point_of_a_migration_the_book_is_of_one_version_or_the_other() {
    let dir = tempfile::tempdir().unwrap();
    let old = dir.path().join("old.db");
    first_version(&old);
    let path = dir.path().join("book.db");
    let mut dice = Dice::new(2);
    let (mut before, mut after) = (0, 0);
    let usual = how_long("faults_kill::migrates", &path, || fresh(&old, &path));
    let kills = rounds(6, 60);
    for kill in 0..kills {
        fresh(&old, &path);
        let mut child = Child::start("faults_kill::migrates", &path, dice.next());
        assert_eq!(child.line().as_deref(), Some("begins"));
        child.kill_within(dice.part_of(usual));
        let told = child.rest();
        let version = version_without_touching(&path);
        assert!(told.is_empty() || version > 1, "kill {kill}");
        if version == 1 {
            before += 1;
        } else {
            after += 1;
        }
        let desk = Desk::open(&path, clock()).unwrap();
        let entries = desk.history("1001").unwrap();
        assert_eq!(entries.len(), 900, "kill {kill}");
        for (entry, i) in entries.iter().zip(1..) {
            assert_eq!(entry.detail["entry"], i, "kill {kill}");
        }
        // The last says that the book was brought up to date.
        assert_eq!(whole(&path), 901, "kill {kill}");
    }
    faults::report(&format!(
        "killed {kills} times in a migration: {before} stood before it, {after} after it, none between"
    ));
}

/// Reads the version from a copy, so that the book itself is first opened by the program.
fn version_without_touching(path: &Path) -> i64 {
    let dir = tempfile::tempdir().unwrap();
    let copy = dir.path().join("copy.db");
    for end in ["", "-wal"] {
        let name = |p: &Path| PathBuf::from(format!("{}{end}", p.display()));
        if name(path).exists() {
            std::fs::copy(name(path), name(&copy)).unwrap();
        }
    }
    let raw = Connection::open(&copy).unwrap();
    raw.pragma_query_value(None, "user_version", |r| r.get(0))
        .unwrap()
}

#[test]
#[ignore = "the process that another test kills"]
fn migrates() {
    let (path, _) = faults::given();
    faults::say("begins");
    Desk::open(&path, clock()).unwrap();
    faults::say("done");
}

const JOBS_IN_FILE: usize = 40;

#[test]
fn killed_at_any_point_of_an_import_the_whole_file_is_in_the_book_or_nothing_of_it() {
    let dir = tempfile::tempdir().unwrap();
    let empty = dir.path().join("empty.db");
    begin(&empty);
    let path = dir.path().join("book.db");
    let mut dice = Dice::new(3);
    let (mut nothing, mut all) = (0, 0);
    let usual = how_long("faults_kill::imports", &path, || fresh(&empty, &path));
    let kills = rounds(5, 40);
    for kill in 0..kills {
        fresh(&empty, &path);
        let mut child = Child::start("faults_kill::imports", &path, dice.next());
        assert_eq!(child.line().as_deref(), Some("begins"));
        child.kill_within(dice.part_of(usual));
        let told = child.rest();
        let kept = Desk::open(&path, clock()).unwrap().numbers().unwrap().len();
        assert!(kept == 0 || kept == JOBS_IN_FILE, "kill {kill}: {kept}");
        assert!(told.is_empty() || kept == JOBS_IN_FILE, "kill {kill}");
        assert_eq!(whole(&path), 1 + kept as u64, "kill {kill}");
        if kept == 0 {
            nothing += 1;
        } else {
            all += 1;
        }
    }
    faults::report(&format!(
        "killed {kills} times in an import: {nothing} had nothing of it, {all} had all of it"
    ));
}

#[test]
#[ignore = "the process that another test kills"]
fn imports() {
    let (path, _) = faults::given();
    let job = scenario("S01")["job"].clone();
    let file = json!(vec![job; JOBS_IN_FILE]).to_string();
    let mut desk = Desk::open(&path, clock()).unwrap();
    faults::say("begins");
    let taken = desk.import(&file, Some(OPTICIAN)).unwrap();
    assert_eq!(taken.numbers.len(), JOBS_IN_FILE);
    faults::say("done");
}

#[test]
fn killed_while_a_book_is_begun_it_can_be_worked_in_or_says_what_to_remove() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    let mut dice = Dice::new(4);
    let usual = how_long("faults_kill::begins_a_book", &path, || remove(&path));
    let (mut none, mut there_is, mut refused) = (0, 0, 0);
    let kills = rounds(6, 60);
    for kill in 0..kills {
        remove(&path);
        let mut child = Child::start("faults_kill::begins_a_book", &path, dice.next());
        assert_eq!(child.line().as_deref(), Some("begins"));
        child.kill_within(dice.part_of(usual));
        let told = child.rest();
        let there = std::fs::metadata(&path).map(|m| m.len());
        if there.is_ok() {
            there_is += 1;
        } else {
            none += 1;
        }
        let mut desk = match Desk::open_or_create(&path, clock()) {
            Ok(desk) => desk,
            Err(error) => {
                assert!(told.is_empty(), "kill {kill}: {there:?} bytes: {error}");
                assert!(error.message.contains("remove it"), "{error}");
                assert_eq!(std::fs::metadata(&path).unwrap().len(), 0);
                refused += 1;
                remove(&path);
                Desk::create(&path, clock()).unwrap()
            }
        };
        assert!(told.is_empty() || there.is_ok(), "kill {kill}: gone");
        desk.new_job("Wearer", None).unwrap();
        drop(desk);
        assert_eq!(whole(&path), 1);
    }
    faults::report(&format!(
        "killed {kills} times while a book was begun: {none} had no file yet, {there_is} a file, {refused} of these empty, with a sentence to remove it"
    ));
}

#[test]
#[ignore = "the process that another test kills"]
fn begins_a_book() {
    let (path, _) = faults::given();
    faults::say("begins");
    Desk::create(&path, clock()).unwrap();
    faults::say("done");
}

/// How long a process takes that is not killed, from its first word to its last.
fn how_long(what: &str, path: &Path, prepare: impl Fn()) -> Duration {
    prepare();
    let mut child = Child::start(what, path, 0);
    assert_eq!(child.line().as_deref(), Some("begins"));
    let from = Instant::now();
    assert_eq!(child.line().as_deref(), Some("done"), "{what}");
    from.elapsed()
}

/// A copy of a book, with nothing beside it.
fn fresh(from: &Path, to: &Path) {
    remove(to);
    std::fs::copy(from, to).unwrap();
}

fn remove(path: &Path) {
    for name in ["", "-wal", "-shm", "-journal"] {
        let mut beside = path.as_os_str().to_owned();
        beside.push(name);
        drop(std::fs::remove_file(PathBuf::from(beside)));
    }
}
