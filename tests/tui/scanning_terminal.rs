//! A scanner at the real program in a terminal of its own: the code comes in one write.
#![cfg(unix)]

use crate::driver::{Driver, clock, scenario};
use crate::pty::Pty;
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::tray_code::encode;

/// The second job's wearer, whose name no other has.
const OTHER: &str = "Bela Quist";

fn book() -> Driver {
    let mut other = scenario("S01")["job"].clone();
    other["wearer"]["name"] = OTHER.into();
    Driver::with(&[scenario("S01")["job"].clone(), other])
}

/// What a scanner sends for the second job.
fn scan(end: &str) -> String {
    format!("{}{end}", encode("1002").unwrap())
}

fn started(d: &Driver) -> Pty {
    let pty = Pty::start(&d.path);
    pty.wait_for("Maribel Thorncroft");
    pty
}

fn opened(pty: &Pty) {
    pty.wait_for("job · 1002 Bela Quist");
    pty.wait_for("Job 1002, from its tray.");
}

/// Ends it, and finds the book as it was: a scan records nothing.
fn nothing_was_done(d: &Driver, mut pty: Pty) {
    pty.send("\x11");
    assert_eq!(pty.wait_for_end(), 0);
    assert!(pty.is_restored());
    let desk = Desk::open(&d.path, clock()).unwrap();
    for number in ["1001", "1002"] {
        assert_eq!(desk.history(number).unwrap().len(), 1, "{number}");
        let open = desk.load(number).unwrap();
        assert_eq!(open.job.stage(), rimbook::testing::job::Stage::Measured);
    }
}

#[test]
fn on_the_worklist_it_opens_the_job_whatever_ends_the_code() {
    for end in ["\r", "\n", "\r\n", "\t", ""] {
        let d = book();
        let mut pty = started(&d);
        pty.send(&scan(end));
        opened(&pty);
        nothing_was_done(&d, pty);
    }
}

#[test]
fn in_an_entry_that_is_being_typed_nothing_of_it_is_typed_and_the_entry_is_kept() {
    let d = book();
    let mut pty = started(&d);
    pty.send("\r");
    pty.wait_for("the wearer's name as it is written");
    pty.send("\x1b[B\x1b[B");
    pty.send("01777 900");
    pty.wait_for("01777 900");
    // A key that types nothing: what follows at once is a burst of its own.
    pty.send("\x1b[F");
    pty.send(&scan("\r"));
    opened(&pty);
    let desk = Desk::open(&d.path, clock()).unwrap();
    let drafts = desk.drafts("1001").unwrap();
    assert_eq!(drafts.len(), 1);
    assert_eq!(drafts[0].text, "01777 900");
    nothing_was_done(&d, pty);
}

#[test]
fn in_the_look_up_and_at_the_gate_it_opens_the_job() {
    let d = book();
    let mut pty = started(&d);
    pty.send("/");
    pty.wait_for("look-up");
    pty.send("Marib\x1b[F");
    pty.wait_for("Marib");
    pty.send(&scan("\r"));
    opened(&pty);
    nothing_was_done(&d, pty);
    let mut pty = started(&d);
    pty.send("\r");
    pty.wait_for("the wearer's name as it is written");
    pty.send("\x07");
    pty.wait_for("gate");
    pty.send(&scan("\r"));
    opened(&pty);
    nothing_was_done(&d, pty);
}

#[test]
fn a_code_that_is_pasted_opens_the_job() {
    let d = book();
    let mut pty = started(&d);
    pty.send(&format!("\x1b[200~{}\x1b[201~", scan("\r")));
    opened(&pty);
    nothing_was_done(&d, pty);
}

#[test]
fn a_code_with_a_wrong_character_is_typed_as_it_comes() {
    let d = book();
    let mut pty = started(&d);
    pty.send("/");
    pty.wait_for("look-up");
    pty.send("\x1b[F");
    // One digit too many: the check character does not fit.
    let wrong = scan("").replacen('R', "R9", 1);
    pty.send(&wrong);
    pty.wait_for(&wrong);
    nothing_was_done(&d, pty);
}
