//! A day with one verified pair in the collections, and what is looked at there.
#![allow(dead_code, reason = "each test file uses its part")]

use crate::driver::{Driver, clock, scenario, verify};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::{Gate, Handover};
use rimbook::testing::tui::Screen;
use rimbook::testing::tui::screens::collections::HandoverCheck;
use serde_json::{Value, json};

pub fn file() -> Value {
    let mut file = scenario("S01")["job"].clone();
    file["collection_at"] = json!("2026-10-12T15:30");
    file["order"]["due_on"] = json!("2026-10-12");
    file
}

/// The collections of a day with one verified pair.
pub fn collections() -> Driver {
    let mut d = Driver::signed_in(&[file()]);
    let number = d.app.lines[0].number.clone();
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    verify(&mut desk, &number, "Ines Calloway");
    d.run(vec![rimbook::testing::tui::effect::Effect::Reload]);
    d.keys(&["c"]);
    assert_eq!(d.app.screen, Screen::Collections);
    d
}

pub fn handover(d: &Driver) -> Handover {
    let number = d.collections().lines[0].number.clone();
    let desk = Desk::open(&d.path, clock()).unwrap();
    desk.load(&number).unwrap().job.handover
}

pub fn held_by(d: &Driver, check: &str) -> bool {
    let number = d.collections().lines[0].number.clone();
    let desk = Desk::open(&d.path, clock()).unwrap();
    let open = desk.load(&number).unwrap();
    let findings = desk.findings(&open, Gate::Collected).unwrap();
    findings.iter().any(|f| f.check == check && f.is_open())
}

/// Goes to the step of a path.
pub fn to(d: &mut Driver, path: &str) {
    let at = all(d).iter().position(|s| s.path == path).expect(path);
    for _ in 0..50 {
        d.keys(&["up"]);
    }
    for _ in 0..at {
        d.keys(&["down"]);
    }
}

pub fn all(d: &Driver) -> Vec<HandoverCheck> {
    rimbook::testing::tui::screens::collections::steps_now(d.app.seen())
}
