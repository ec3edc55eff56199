//! Power that fails: the file and its log as they may lie on the disk afterwards.
//!
//! SQLite writes an acknowledged change to the log and has it put on the disk; the file itself is written
//! only from a log that lies there. So after a loss of power the file is as it was at the last checkpoint
//! and the log holds every acknowledged frame, while what was being written is there in part, in another
//! order, or not at all. The states are made from the log of a recorded day: cut at a frame, cut within
//! one, with later frames lost, torn in sectors, mixed up, or as rubbish. This is no failing disk: what
//! the disk said to hold is taken to be held.
//!
//! Long: a plain run tries less often (`tests/support/long.rs`).
#![cfg(unix)]
#![allow(clippy::disallowed_methods, reason = "tests")]

use std::path::Path;

use crate::driver::{clock, optician};
use crate::faults::{Dice, clean, report, whole_by_the_program, with};
use crate::long::rounds;
use rimbook::testing::book::desk::{Desk, examine};
use rimbook::testing::job::Section;
use serde_json::json;

/// Bytes of the head of a log and of the head of each frame
/// (<https://www.sqlite.org/fileformat2.html>, "The Write-Ahead Log").
const LOG_HEAD: usize = 32;
const FRAME: usize = 24 + 4096;
/// What a disk writes in one go.
const SECTOR: usize = 512;

/// A recorded day: the file before it, the log after it, and after each acknowledged change the length of
/// the log and the entries of history that were kept by then.
struct Day {
    file: Vec<u8>,
    log: Vec<u8>,
    kept: Vec<(usize, u64)>,
}

fn day() -> Day {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    let mut desk = Desk::create(&path, clock()).unwrap();
    desk.add_staff(optician()).unwrap();
    let number = desk.new_job("Wanda Holt", None).unwrap().number;
    drop(desk);
    let file = std::fs::read(&path).unwrap();
    let begun = whole_by_the_program(&path);
    let mut desk = Desk::open(&path, clock()).unwrap();
    let length =
        || usize::try_from(std::fs::metadata(with(&path, "-wal")).map_or(0, |m| m.len())).unwrap();
    let mut kept = vec![(0, begun)];
    for n in 1..=12 {
        if n % 4 == 0 {
            desk.new_job(&format!("Wearer {n}"), None).unwrap();
        } else {
            let colour = json!({"colour": format!("colour {n}")});
            desk.record(&number, Section::Frame, &colour, None, None)
                .unwrap();
        }
        kept.push((length(), begun + n));
    }
    let log = std::fs::read(with(&path, "-wal")).unwrap();
    Day { file, log, kept }
}

/// Puts a state on the disk, opens it by the program and returns the entries of history it has.
fn after(path: &Path, file: &[u8], log: &[u8]) -> u64 {
    clean(path);
    std::fs::write(path, file).unwrap();
    std::fs::write(with(path, "-wal"), log).unwrap();
    let entries = whole_by_the_program(path);
    let found = examine(path, clock(), None, None, None).unwrap();
    assert!(found.is_sound(), "{:?}", found.findings);
    entries
}

#[test]
fn whatever_was_acknowledged_before_the_power_failed_is_there_afterwards() {
    let day = day();
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    let mut dice = Dice::new(15);
    let pick = |dice: &mut Dice, below: usize| usize::try_from(dice.below(below as u64)).unwrap();
    let (mut exact, mut ahead) = (0, 0);
    let cuts = rounds(24, 200);
    for cut in 0..cuts {
        // Acknowledged up to here; the next change was under way.
        let at = pick(&mut dice, day.kept.len() - 1);
        let (synced, entries) = day.kept[at];
        let under_way = day.kept[at + 1].0;
        let mut log = day.log[..synced].to_vec();
        let rest = &day.log[synced..under_way];
        match cut % 6 {
            // Nothing of it, or a part that ends anywhere.
            0 => log.extend(&rest[..pick(&mut dice, rest.len() + 1)]),
            // Whole frames of it.
            1 => log.extend(&rest[..(pick(&mut dice, rest.len() / FRAME + 1)) * FRAME]),
            // All of its length, some sectors never written.
            2 => {
                log.extend(rest);
                for from in (synced.max(LOG_HEAD)..log.len()).step_by(SECTOR) {
                    let to = (from + SECTOR).min(log.len());
                    if dice.below(2) == 0 {
                        log[from..to].fill(0);
                    }
                }
            }
            // Its frames in another order.
            3 => {
                let mut frames: Vec<&[u8]> = rest.chunks(FRAME).collect();
                for n in (1..frames.len()).rev() {
                    frames.swap(n, pick(&mut dice, n + 1));
                }
                log.extend(frames.concat());
            }
            // Only its last frames.
            4 => {
                let lost = pick(&mut dice, rest.len().max(1));
                log.extend(vec![0; lost]);
                log.extend(&rest[lost..]);
            }
            // Rubbish of an earlier life of those sectors.
            _ => {
                let bytes = pick(&mut dice, rest.len() + 1);
                log.extend((0..bytes).map(|_| u8::try_from(dice.below(256)).unwrap()));
            }
        }
        let found = after(&path, &day.file, &log);
        assert!(
            found == entries || found == entries + 1,
            "cut {cut} after change {at}: {found} entries, {entries} were acknowledged"
        );
        if found == entries {
            exact += 1;
        } else {
            ahead += 1;
        }
    }
    report(&format!(
        "power cut {cuts} times: nothing acknowledged was lost, {exact} as acknowledged, {ahead} with the change under way as well"
    ));
}

#[test]
fn power_that_fails_while_the_log_is_put_into_the_file_loses_nothing() {
    let day = day();
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    // The file after the log was put into it.
    let all = after(&path, &day.file, &day.log);
    clean(&path);
    std::fs::write(&path, &day.file).unwrap();
    std::fs::write(with(&path, "-wal"), &day.log).unwrap();
    let raw = rusqlite::Connection::open(&path).unwrap();
    raw.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()))
        .unwrap();
    drop(raw);
    let done = std::fs::read(&path).unwrap();
    let mut dice = Dice::new(16);
    let cuts = rounds(12, 100);
    for cut in 0..cuts {
        // The log is on the disk until the file is; each sector of the file is old or new.
        let mut file = day.file.clone();
        file.resize(done.len(), 0);
        for from in (0..file.len()).step_by(SECTOR) {
            if dice.below(2) == 0 {
                file[from..from + SECTOR].copy_from_slice(&done[from..from + SECTOR]);
            }
        }
        // A file grows before what is in it is written.
        assert_eq!(after(&path, &file, &day.log), all, "cut {cut}");
    }
    report(&format!(
        "power cut {cuts} times while the log is put into the file: nothing lost"
    ));
}
