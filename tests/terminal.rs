//! The program itself in a terminal of its own: start, type, resize, paste, and every way it ends.

#![cfg(unix)]
#![allow(
    clippy::disallowed_methods,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    reason = "tests"
)]

mod driver;
mod pty;

use portable_pty::PtySize;

use driver::{Driver, scenario};
use pty::{Pty, size_of};

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
    let mut pty = Pty::start(&d.path);
    pty.wait_for("Maribel Thorncroft");
    pty.send("\x1a");
    pty.wait("the own screen left", |s| {
        !s.parser.screen().alternate_screen()
    });
    pty.kill("-CONT");
    pty.wait("the own screen taken again", |s| {
        s.parser.screen().alternate_screen()
    });
    pty.wait_for("Maribel Thorncroft");
    pty.send("q");
    assert_eq!(pty.wait_for_end(), 0);
    assert!(pty.is_restored());
}
