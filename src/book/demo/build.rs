//! Plays the demo files through the desk, so that no demo job has passed a gate it would not pass.

use super::demo_file::{DemoStep, files, resolve, staff};
use crate::book::desk::{Desk, DeskError, ErrorKind};

/// The result of building a demo book.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Built {
    /// How many jobs are in the book, rechecks and remakes included.
    pub jobs: usize,
}

/// Fills a new book with the invented practice, every job by the steps of its file.
///
/// # Errors
/// [`DeskError`] when a file cannot be read or the gate holds a move that the file expects to pass.
pub fn build(desk: &mut Desk) -> Result<Built, DeskError> {
    let today = desk.today();
    for member in staff().map_err(|e| DeskError::new(ErrorKind::Input, e.to_string()))? {
        desk.add_staff(member)?;
    }
    let mut jobs = 0;
    for file in files() {
        let demo = resolve(file.text, today)
            .map_err(|e| DeskError::new(ErrorKind::Input, format!("{}: {e}", file.name)))?;
        for number in desk.import(&demo.job.to_string(), None)?.numbers {
            for step in &demo.steps {
                jobs += play(desk, &number, step, file.name)?;
            }
            jobs += 1;
        }
    }
    Ok(Built { jobs })
}

/// Does one step; returns how many jobs it began.
fn play(desk: &mut Desk, number: &str, step: &DemoStep, file: &str) -> Result<usize, DeskError> {
    match step {
        DemoStep::Advance(s) => {
            let advance = desk.advance(number, s.advance, &s.by, None)?;
            if !advance.moved {
                let held: Vec<&str> = advance
                    .findings
                    .iter()
                    .filter(|f| f.is_open())
                    .map(|f| f.check.word())
                    .collect();
                return Err(DeskError::new(
                    ErrorKind::Refused,
                    format!("{file}: held by {}", held.join(", ")),
                ));
            }
        }
        DemoStep::Accept(s) => {
            let accepted = desk.accept(number, &s.accept, s.eye.as_deref(), &s.by, &s.reason)?;
            if !accepted.ok {
                return Err(DeskError::new(
                    ErrorKind::Refused,
                    format!("{file}: {}", accepted.message),
                ));
            }
        }
        DemoStep::Record(s) => {
            desk.record(number, s.record, &s.value, None, Some(&s.by))?;
        }
        DemoStep::SendBack(s) => {
            desk.send_back(number, &s.by, &s.send_back)?;
        }
        DemoStep::Ask(s) => {
            desk.ask(number, &s.by, s.of, &s.ask)?;
        }
        DemoStep::Repair(s) => {
            let repaired = desk.add_repair(number, &s.by, s.repair.clone())?;
            if repaired.kept.is_none() {
                return Err(DeskError::new(
                    ErrorKind::Refused,
                    format!("{file}: a check holds the repair of {number}"),
                ));
            }
        }
        DemoStep::Recheck(s) => {
            let begun = desk.recheck(number, &s.by)?.number;
            let mut jobs = 1;
            for step in &s.recheck {
                jobs += play(desk, &begun, step, file)?;
            }
            return Ok(jobs);
        }
    }
    Ok(0)
}
