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
use rimbook::testing::book::desk::{Desk, ErrorKind, ListFilter, examine};
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

/// What a command answers that reads the whole book: lists, searches, jobs as an export writes them.
fn answered(desk: &Desk) -> Result<String, String> {
    let text = |e: rimbook::testing::book::desk::DeskError| e.to_string();
    let mut all = told(desk)?;
    for text_found in ["Maribel", "1001", "196"] {
        let found = desk.find(text_found, 50).map_err(text)?;
        write!(all, "{found:?}").unwrap();
    }
    let list = desk.list(&ListFilter::default()).map_err(text)?;
    write!(all, "{list:?}{:?}", desk.practice().map_err(text)?).unwrap();
    Ok(all)
}

/// Whether the doctor finds something wrong.
fn is_found_out(path: &Path) -> bool {
    examine(path, clock(), None, None, None).map_or(true, |d| !d.is_sound())
}

/// What an undamaged book reads like.
struct Before(String);

impl Before {
    fn of(path: &Path) -> Self {
        let desk = Desk::open(path, clock()).unwrap();
        Self(answered(&desk).unwrap())
    }
}

/// What became of a file that was damaged.
#[derive(Debug, PartialEq, Eq)]
enum Outcome {
    Refused,
    FoundOut,
    /// Neither refused nor found, and everything reads as before.
    Harmless,
    /// The doctor is content, and a command refuses or answers otherwise.
    Unnoticed(String),
}

/// Opens a damaged book, examines it, reads all of it, writes to it.
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
    // Before anything is read: what is judged again while it is read would mend it.
    if is_found_out(path) {
        // It goes on or refuses; it does not panic.
        drop(answered(&desk));
        drop(desk.new_job("Wearer", Some(OPTICIAN)));
        return Outcome::FoundOut;
    }
    match answered(&desk) {
        Err(why) => Outcome::Unnoticed(why),
        Ok(reads) if reads == before.0 => Outcome::Harmless,
        Ok(_) => Outcome::Unnoticed("other values".to_owned()),
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
fn a_flipped_bit_is_refused_or_found_out_by_the_doctor_or_changes_nothing_that_is_read() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    book(&path);
    let before = Before::of(&path);
    let bytes = std::fs::read(&path).unwrap();
    let mut dice = Dice::new(2);
    let (mut refused, mut found, mut harmless) = (0, 0, 0);
    let mut unnoticed = Vec::new();
    for flip in 0..rounds(60, 400) {
        // The head of the file is where a flip decides most.
        let bound = if flip % 8 == 0 {
            100
        } else {
            bytes.len() as u64
        };
        let at = usize::try_from(dice.below(bound)).unwrap();
        let bit = dice.below(8);
        let mut damaged = bytes.clone();
        damaged[at] ^= 1 << bit;
        clean(&path);
        std::fs::write(&path, &damaged).unwrap();
        match outcome(&path, &before) {
            Outcome::Refused => refused += 1,
            Outcome::FoundOut => found += 1,
            Outcome::Harmless => harmless += 1,
            Outcome::Unnoticed(why) => unnoticed.push((at, bit, why)),
        }
    }
    report(&format!(
        "flipped bits: {refused} refused, {found} found out, {harmless} changed nothing that is read, {} unnoticed",
        unnoticed.len()
    ));
    assert!(refused > 0 && found > 0);
    assert_eq!(unnoticed, [], "of {} bytes", bytes.len());
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
    // The index beside the log is rubbish from before a crash: it is made again.
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
    assert!(!matches!(became, Outcome::Unnoticed(_)), "{became:?}");
    report(&format!("another book's log: {became:?}"));
}
