//! The program itself in a terminal of its own: start, type, resize, paste, and every way it ends.

#![cfg(unix)]
#![allow(clippy::disallowed_methods, reason = "tests")]

use crate::driver;

use std::path::Path;

use portable_pty::PtySize;

use crate::driver::{Driver, scenario};
use crate::pty::{Pty, size_of};

fn book() -> Driver {
    Driver::with(&[scenario("S01")["job"].clone()])
}

#[test]
fn it_starts_takes_keys_and_leaves_the_terminal_as_it_was() {
    let d = book();
    let mut pty = Pty::start(&d.path);
    pty.wait_for("Maribel Thorncroft");
    pty.send("?");
    pty.wait_for("Opens what is selected.");
    pty.send("x");
    pty.send("q");
    assert_eq!(pty.wait_for_end(), 0);
    assert!(pty.is_restored());
}

#[test]
fn where_people_sign_in_it_starts_locked_and_a_pin_opens_it() {
    use rimbook::testing::book::desk::{Desk, Security};
    let d = book();
    let mut desk = Desk::open(&d.path, driver::clock()).unwrap();
    desk.set_secret("Ines Calloway", "4710", "Ines Calloway")
        .unwrap();
    let on = Security {
        sign_in: true,
        idle_minutes: 5,
    };
    desk.set_security(on, "Ines Calloway").unwrap();
    drop(desk);
    let mut pty = Pty::start(&d.path);
    pty.wait_for("Nothing of the book is shown");
    pty.send("4710\r");
    pty.wait_for("Maribel Thorncroft");
    pty.send("\x0c");
    pty.wait_for("Ines Calloway was signed in");
    pty.send("\x11");
    assert_eq!(pty.wait_for_end(), 0);
    let seen = pty.seen.0.lock().unwrap();
    assert!(!seen.raw.windows(4).any(|w| w == b"4710"));
}

#[test]
fn it_follows_the_size_of_the_window() {
    let d = book();
    let mut pty = Pty::start(&d.path);
    pty.wait_for("Maribel Thorncroft");
    pty.seen
        .0
        .lock()
        .unwrap()
        .parser
        .screen_mut()
        .set_size(size_of(12), size_of(40));
    let size = PtySize {
        rows: 12,
        cols: 40,
        pixel_width: 0,
        pixel_height: 0,
    };
    pty.master.as_ref().unwrap().resize(size).unwrap();
    pty.wait_for("rimbook needs 60 columns");
    pty.seen
        .0
        .lock()
        .unwrap()
        .parser
        .screen_mut()
        .set_size(size_of(30), size_of(110));
    let size = PtySize {
        rows: 30,
        cols: 110,
        pixel_width: 0,
        pixel_height: 0,
    };
    pty.master.as_ref().unwrap().resize(size).unwrap();
    pty.wait_for("Maribel Thorncroft");
    pty.send("\x11");
    assert_eq!(pty.wait_for_end(), 0);
}

#[test]
fn pasted_lines_are_text_and_no_commands() {
    let d = book();
    let mut pty = Pty::start(&d.path);
    pty.wait_for("Maribel Thorncroft");
    pty.send("\x1b[200~q\nq\n\x1b[201~");
    pty.send("n");
    pty.wait_for("Name of the wearer:");
    pty.send("\x1b[200~Ada\nBlom\x1b[201~");
    pty.wait_for("> Ada Blom");
    pty.send("\x11");
    assert_eq!(pty.wait_for_end(), 0);
}

#[test]
fn asked_to_end_it_gives_the_terminal_back() {
    for signal in ["-TERM", "-HUP"] {
        let d = book();
        let mut pty = Pty::start(&d.path);
        pty.wait_for("Maribel Thorncroft");
        pty.kill(signal);
        pty.wait_for_end();
        assert!(pty.is_restored(), "{signal}");
    }
}

#[test]
fn killed_while_something_is_typed_it_offers_it_again() {
    let d = book();
    let mut pty = Pty::start(&d.path);
    pty.wait_for("Maribel Thorncroft");
    pty.send("\r");
    pty.wait_for("the wearer's name as it is written");
    pty.send("\x1b[B\x1b[B01777 900");
    pty.wait_for("01777 900");
    pty.kill("-KILL");
    pty.wait_for_end();
    let mut again = Pty::start(&d.path);
    again.wait_for("Maribel Thorncroft");
    again.send("\r");
    again.wait_for("This was typed earlier");
    again.wait_for("01777 900");
    again.send("\x11");
    assert_eq!(again.wait_for_end(), 0);
}

#[test]
fn a_terminal_that_goes_away_ends_the_program() {
    let d = book();
    let mut pty = Pty::start(&d.path);
    pty.wait_for("Maribel Thorncroft");
    // The hang-up that closing a window sends goes to the program that has the terminal.
    pty.kill("-HUP");
    drop(pty.master.take());
    pty.wait_for_end();
}

#[test]
fn suspended_and_taken_up_again_it_draws_the_whole_screen() {
    let d = book();
    let mut pty = Pty::start_in_shell(&d.path);
    pty.wait_for("Maribel Thorncroft");
    let program = pty.started();
    pty.send("\x1a");
    pty.wait("the own screen left", |s| {
        !s.parser.screen().alternate_screen()
    });
    Pty::wait_until_stopped(&program);
    pty.send("\n");
    pty.wait("the own screen taken again", |s| {
        s.parser.screen().alternate_screen()
    });
    pty.wait_for("Maribel Thorncroft");
    pty.send("q");
    Pty::wait_until_gone(&program);
    pty.send("\x04");
    pty.wait_for_end();
    assert!(pty.is_restored());
}

/// A book whose backups go into a directory beside it.
fn book_with_backups() -> (Driver, std::path::PathBuf) {
    let d = book();
    let dir = d.path.with_file_name("kept");
    let change = rimbook::testing::book::desk::PlanChange {
        dir: Some(dir.clone()),
        ..Default::default()
    };
    let mut desk = rimbook::testing::book::desk::Desk::open(&d.path, driver::clock()).unwrap();
    desk.set_backup_plan(&change, &driver::optician().name)
        .unwrap();
    (d, dir)
}

fn files_in(dir: &Path) -> usize {
    std::fs::read_dir(dir).map_or(0, |files| {
        files
            .filter(|f| {
                f.as_ref()
                    .unwrap()
                    .path()
                    .extension()
                    .is_some_and(|e| e == "db")
            })
            .count()
    })
}

#[test]
fn the_first_start_of_a_day_and_leaving_after_changes_make_a_backup() {
    let (d, dir) = book_with_backups();
    let mut pty = Pty::start(&d.path);
    pty.wait_for("backup           today ");
    assert_eq!(files_in(&dir), 1);
    pty.send("q");
    assert_eq!(pty.wait_for_end(), 0);
    assert_eq!(files_in(&dir), 1, "nothing was changed since");
    let mut desk = rimbook::testing::book::desk::Desk::open(&d.path, driver::clock()).unwrap();
    desk.new_job("Ada Blom", None).unwrap();
    drop(desk);
    let mut pty = Pty::start(&d.path);
    pty.wait_for("Ada Blom");
    pty.send("q");
    assert_eq!(pty.wait_for_end(), 0);
    assert!(pty.is_restored());
    assert_eq!(files_in(&dir), 2, "that day's first start had one already");
}

#[test]
fn a_backup_that_has_to_wait_keeps_neither_screen_nor_keys_waiting() {
    let (d, dir) = book_with_backups();
    let mut store = rimbook::testing::book::store::Store::open(&d.path).unwrap();
    let held = store.write().unwrap();
    let mut pty = Pty::start(&d.path);
    pty.wait_for("Maribel Thorncroft");
    pty.send("?");
    pty.wait_for("Opens what is selected.");
    pty.send("x");
    pty.wait_for("backup           no backup yet");
    // The book is held, so the backup cannot be noted in it yet.
    drop(held);
    pty.wait_for("backup           today ");
    assert_eq!(files_in(&dir), 1);
}

#[test]
fn a_backup_that_fails_is_told_on_the_screen_and_on_leaving() {
    let (d, dir) = book_with_backups();
    std::fs::write(&dir, "a file where the directory should be").unwrap();
    let mut pty = Pty::start(&d.path);
    pty.wait_for("cannot take a backup");
    pty.send("q");
    assert_eq!(pty.wait_for_end(), 1);
    pty.wait_for("rimbook: ");
    pty.wait_for("cannot take a backup");
    assert!(pty.is_restored());
}

#[test]
fn a_terminal_of_another_character_set_gets_ascii_and_a_dumb_one_a_sentence() {
    let d = book();
    for (name, value) in [("LANG", "C"), ("LC_ALL", "en_GB.ISO-8859-1")] {
        let mut pty = Pty::start_with(&d.path, &[(name, value)]);
        pty.wait_for("Maribel Thorncroft");
        pty.send("\r");
        pty.wait_for("the wearer's name as it is written");
        let raw = pty.seen.0.lock().unwrap().raw.clone();
        assert!(raw.is_ascii(), "{name}={value}");
        pty.send("\x11");
        assert_eq!(pty.wait_for_end(), 0);
    }
    let mut pty = Pty::start_with(&d.path, &[("TERM", "dumb")]);
    pty.wait_for("TERM=dumb");
    assert_ne!(pty.wait_for_end(), 0);
    let seen = pty.seen.0.lock().unwrap();
    assert!(!seen.raw.contains(&0x1b), "no sequence is sent");
}
