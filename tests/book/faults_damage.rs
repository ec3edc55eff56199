//! Files that were damaged: refused with a sentence and untouched, found out, or without any effect.
//!
//! Long: a plain run tries less often (`tests/support/long.rs`).
#![cfg(unix)]
#![allow(clippy::disallowed_methods, reason = "tests")]

use std::fmt::Write as _;
use std::path::Path;

use crate::driver::clock;
use crate::faults::{
    Dice, OPTICIAN, PAGE, book, clean, files, report, whole, whole_by_the_program, with,
};
use crate::long::rounds;
use rimbook::testing::book::desk::{Desk, ErrorKind};
use rimbook::testing::book::store::Store;
use rusqlite::Connection;

/// Everything a person can read in a book.
fn told(desk: &Desk) -> Result<String, String> {
    let text = |e: rimbook::testing::book::desk::DeskError| e.to_string();
    let mut all = format!("{:?}", desk.staff().map_err(text)?);
    for number in desk.numbers().map_err(text)? {
        let open = desk.load(&number).map_err(text)?;
        let history = desk.history(&number).map_err(text)?;
        writeln!(all, "{open:?}\n{history:?}").unwrap();
    }
    write!(all, "{:?}", desk.worklist().map_err(text)?).unwrap();
    Ok(all)
}

/// What history binds: every job as it stands and everything that happened to it.
fn bound(desk: &Desk) -> Result<String, String> {
    let text = |e: rimbook::testing::book::desk::DeskError| e.to_string();
    let mut all = String::new();
    for number in desk.numbers().map_err(text)? {
        let job = desk.load(&number).map_err(text)?.job;
        let history = desk.history(&number).map_err(text)?;
        writeln!(all, "{job:?}\n{history:?}").unwrap();
    }
    Ok(all)
}

/// Whether the library's own check or the chain finds something wrong.
fn is_found_out(path: &Path) -> bool {
    let raw = Connection::open(path).unwrap();
    let said = raw.query_row("PRAGMA integrity_check", [], |r| r.get::<_, String>(0));
    drop(raw);
    if said.as_deref() != Ok("ok") {
        return true;
    }
    let Ok(store) = Store::open(path) else {
        return true;
    };
    store.walk_history().map_or(true, |w| !w.faults.is_empty())
}

/// What an undamaged book reads like.
struct Before {
    all: String,
    bound: String,
}

impl Before {
    fn of(path: &Path) -> Self {
        let desk = Desk::open(path, clock()).unwrap();
        Self {
            all: told(&desk).unwrap(),
            bound: bound(&desk).unwrap(),
        }
    }
}

/// What became of a file that was damaged.
#[derive(Debug, PartialEq, Eq)]
enum Outcome {
    Refused,
    FoundOut,
    /// Neither refused nor found, and everything reads as before.
    Harmless,
    /// Neither refused nor found, and something reads otherwise that history does not bind: the
    /// staff list, and what the lists show beside a job.
    Unbound,
    /// Neither refused nor found, and something reads otherwise that history binds.
    Unnoticed,
}

/// Opens a damaged book, reads all of it, writes to it.
fn outcome(path: &Path, before: &Before) -> Outcome {
    let stood = files(path.parent().unwrap());
    let mut desk = match Desk::open(path, clock()) {
        Ok(desk) => desk,
        Err(error) => {
            assert_eq!(error.kind, ErrorKind::File, "{error}");
            assert!(files(path.parent().unwrap()) == stood, "touched: {error}");
            return Outcome::Refused;
        }
    };
    let (reads, stands) = (told(&desk), bound(&desk));
    drop(desk.find("Maribel", 10));
    if is_found_out(path) {
        // It goes on or refuses; it does not panic.
        drop(desk.new_job("Wearer", Some(OPTICIAN)));
        return Outcome::FoundOut;
    }
    match (reads, stands) {
        // Whoever reads it is told so in a sentence.
        (_, Err(_)) => Outcome::FoundOut,
        (Ok(reads), _) if reads == before.all => Outcome::Harmless,
        (_, Ok(stands)) if stands == before.bound => Outcome::Unbound,
        _ => Outcome::Unnoticed,
    }
}

#[test]
fn a_book_cut_off_anywhere_is_refused_and_untouched_or_found_out() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    book(&path);
    let bytes = std::fs::read(&path).unwrap();
    let mut dice = Dice::new(1);
    let lengths = (0..bytes.len())
        .step_by(1024)
        .chain((0..60).map(|_| usize::try_from(dice.next()).unwrap_or(7) % bytes.len()));
    let before = Before::of(&path);
    let (mut refused, mut found) = (0, 0);
    for length in lengths {
        clean(&path);
        std::fs::write(&path, &bytes[..length]).unwrap();
        match outcome(&path, &before) {
            Outcome::Refused => refused += 1,
            // A part of the last page is there: the length alone does not show that it is less.
            Outcome::FoundOut if length > bytes.len() - PAGE => found += 1,
            other => panic!("{length} of {} bytes: {other:?}", bytes.len()),
        }
    }
    assert!(refused > 0);
    report(&format!(
        "cut off: {refused} refused and untouched, {found} in the last page found out"
    ));
}

#[test]
fn a_flipped_byte_is_refused_found_out_or_changes_nothing_that_is_bound_by_history() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    book(&path);
    let bytes = std::fs::read(&path).unwrap();
    let before = Before::of(&path);
    let mut dice = Dice::new(2);
    let (mut refused, mut found, mut harmless, mut unbound) = (0, 0, 0, 0);
    let mut unnoticed = Vec::new();
    for flip in 0..rounds(60, 400) {
        // The head of the file is where a flip decides most.
        let bound = if flip % 4 == 0 {
            100
        } else {
            bytes.len() as u64
        };
        let at = usize::try_from(dice.below(bound)).unwrap();
        let mut damaged = bytes.clone();
        damaged[at] ^= 1 << dice.below(8);
        clean(&path);
        std::fs::write(&path, &damaged).unwrap();
        match outcome(&path, &before) {
            Outcome::Refused => refused += 1,
            Outcome::FoundOut => found += 1,
            Outcome::Harmless => harmless += 1,
            Outcome::Unbound => unbound += 1,
            Outcome::Unnoticed => unnoticed.push(at),
        }
    }
    report(&format!(
        "flipped bits: {refused} refused, {found} found out, {harmless} changed nothing that is read, {unbound} in what history does not bind, unnoticed at {unnoticed:?}"
    ));
    assert!(refused > 0 && found > 0);
    assert_eq!(unnoticed, [0; 0], "of {} bytes", bytes.len());
}

/// A book as a crash leaves it: changes in the log that the file itself lacks.
fn crashed(at: &Path) -> (u64, u64) {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    book(&path);
    let before = whole(&path);
    let mut desk = Desk::open(&path, clock()).unwrap();
    for n in 0..10 {
        desk.new_job(&format!("Late {n}"), Some(OPTICIAN)).unwrap();
    }
    for end in ["", "-wal"] {
        std::fs::copy(with(&path, end), with(at, end)).unwrap();
    }
    (before, before + 10)
}

#[test]
fn without_its_log_or_with_a_part_of_it_the_book_is_whole_as_of_an_earlier_change() {
    let kept = tempfile::tempdir().unwrap();
    let crash = kept.path().join("crash.db");
    let (first, last) = crashed(&crash);
    let file = std::fs::read(&crash).unwrap();
    let log = std::fs::read(with(&crash, "-wal")).unwrap();
    let path = kept.path().join("book.db");
    let mut dice = Dice::new(3);
    let mut last_rows = 0;
    for length in (0..=log.len()).step_by(log.len() / 40).chain([log.len()]) {
        clean(&path);
        std::fs::write(&path, &file).unwrap();
        std::fs::write(with(&path, "-wal"), &log[..length]).unwrap();
        let rows = whole_by_the_program(&path);
        assert!(
            (first..=last).contains(&rows) && rows >= last_rows,
            "{length}: {rows}"
        );
        last_rows = rows;
    }
    assert_eq!(last_rows, last, "with all of its log it has everything");
    for _ in 0..rounds(12, 60) {
        clean(&path);
        let mut damaged = log.clone();
        let at = usize::try_from(dice.below(log.len() as u64)).unwrap();
        damaged[at] ^= 1 << dice.below(8);
        std::fs::write(&path, &file).unwrap();
        std::fs::write(with(&path, "-wal"), &damaged).unwrap();
        let rows = whole_by_the_program(&path);
        assert!((first..=last).contains(&rows), "byte {at}: {rows}");
    }
    clean(&path);
    std::fs::write(&path, &file).unwrap();
    assert_eq!(whole_by_the_program(&path), first, "without a log");
    // The index beside the log is rubbish from before a crash: it is made anew.
    clean(&path);
    std::fs::write(&path, &file).unwrap();
    std::fs::write(with(&path, "-wal"), &log).unwrap();
    std::fs::write(with(&path, "-shm"), vec![0xA5; 32768]).unwrap();
    assert_eq!(whole_by_the_program(&path), last);
}

#[test]
fn a_change_left_half_done_by_a_crash_is_taken_back() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    book(&path);
    let before = told(&Desk::open(&path, clock()).unwrap()).unwrap();
    let raw = Connection::open(&path).unwrap();
    // As another tool leaves a book it has copied: without a write-ahead log.
    raw.execute_batch(
        "PRAGMA journal_mode = DELETE; PRAGMA cache_size = 1; BEGIN IMMEDIATE;
         CREATE TABLE filler (x);
         WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 500)
         INSERT INTO filler SELECT randomblob(500) FROM n;",
    )
    .unwrap();
    let crash = dir.path().join("crash.db");
    for end in ["", "-journal"] {
        std::fs::copy(with(&path, end), with(&crash, end)).unwrap();
    }
    drop(raw);
    assert_ne!(
        std::fs::read(&crash).unwrap(),
        std::fs::read(&path).unwrap()
    );
    let desk = Desk::open(&crash, clock()).unwrap();
    assert_eq!(told(&desk).unwrap(), before);
    drop(desk);
    whole(&crash);
}

#[test]
fn another_books_log_beside_a_book_is_not_taken_for_its_own_without_being_found_out() {
    let dir = tempfile::tempdir().unwrap();
    let (one, other) = (dir.path().join("one.db"), dir.path().join("other.db"));
    book(&one);
    crashed(&other);
    let before = Before::of(&one);
    std::fs::copy(with(&other, "-wal"), with(&one, "-wal")).unwrap();
    let became = outcome(&one, &before);
    assert_ne!(became, Outcome::Unnoticed);
    report(&format!("another book's log: {became:?}"));
}
