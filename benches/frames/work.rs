//! The book's own transactions, without a screen: what the frame of a deed waits for.

use std::path::Path;
use std::time::Instant;

use rimbook::testing::book::clock::Clock;
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::{Gate, Section, Stage};
use serde_json::json;

use crate::PRESSES;
use crate::table::ms;

/// The numbers of open jobs that nothing holds before their order.
pub fn free(book: &Path) -> Vec<String> {
    let desk = Desk::open(book, Clock::default()).unwrap();
    let lines = desk.worklist().unwrap();
    lines
        .into_iter()
        .filter(|l| l.stage == Stage::Measured && l.held.is_empty())
        .map(|l| l.number)
        .collect()
}

/// An entry kept again and again.
pub fn entries(book: &Path, number: &str) -> Vec<f64> {
    let mut desk = Desk::open(book, Clock::default()).unwrap();
    let by = desk.staff().unwrap().0[0].name.clone();
    let mut revision = desk.load(number).unwrap().revision;
    (0..PRESSES)
        .map(|n| {
            let change = json!({"colour": format!("shade {n}")});
            let began = Instant::now();
            let field = Some("frame.colour");
            let kept = desk.record_entry(
                number,
                Section::Frame,
                &change,
                Some(revision),
                Some(&by),
                field,
            );
            let took = ms(began.elapsed());
            revision = kept.unwrap().0.open.revision;
            took
        })
        .collect()
}

/// Jobs moved on, each through the gate to its order.
pub fn moves(book: &Path, numbers: &[String]) -> Vec<f64> {
    let mut desk = Desk::open(book, Clock::default()).unwrap();
    let by = desk.staff().unwrap().0[0].name.clone();
    numbers
        .iter()
        .map(|number| {
            let began = Instant::now();
            let moved = desk.advance(number, Gate::Ordered, &by, None).unwrap();
            let took = ms(began.elapsed());
            assert!(moved.moved, "{number} is held");
            took
        })
        .collect()
}
