//! Invented jobs for a demo book of any size, added in large batches.
//!
//! No invented job has passed a gate that it would not pass: each move is judged by the gate on its
//! day, as for any job. A held job stays before that gate if it is open, and counts as imported
//! history if it should have been collected long ago.

use std::sync::mpsc::sync_channel;

use chrono::{NaiveDate, NaiveDateTime};
use serde_json::Value;

use super::error::{DeskError, ErrorKind};
use super::job_context::JobContext;
use super::open::Desk;
use crate::book::store::bulk::{BulkEvent, BulkJob, Prepared, prepare};
use crate::job::{Gate, Job, Stage};
use crate::judge::gate::{Passed, lets_through};

/// Jobs in one transaction.
const BATCH: usize = 2000;

/// A move through a gate in the past of an invented job.
#[derive(Debug, Clone, PartialEq)]
pub struct InventedMove {
    /// Through which gate.
    pub gate: Gate,
    /// On which day it is judged.
    pub on: NaiveDate,
    /// The job before the move.
    pub before: Job,
}

/// An event in the past of an invented job.
#[derive(Debug, Clone, PartialEq)]
pub struct InventedEvent {
    /// How many of the moves must have been made for it.
    pub moves: usize,
    /// When.
    pub at: NaiveDateTime,
    /// Who.
    pub by: Option<&'static str>,
    /// What.
    pub what: &'static str,
    /// The content.
    pub detail: Value,
}

/// An invented job with its past moves and events.
#[derive(Debug, Clone, PartialEq)]
pub struct Invented {
    /// The job after all moves.
    pub job: Job,
    /// Its moves, in order.
    pub moves: Vec<InventedMove>,
    /// Its history, in order; the first needs no move.
    pub events: Vec<InventedEvent>,
}

impl Desk {
    /// Fills a new, empty book with invented jobs, numbered in their order; returns how many.
    ///
    /// Memory does not grow with their number. A book that is interrupted half way is a whole book
    /// of fewer jobs.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] for a book that holds jobs already, otherwise of the file.
    pub fn enter_invented(
        &mut self,
        jobs: impl Iterator<Item = Invented> + Send,
    ) -> Result<usize, DeskError> {
        self.store.begin_bulk().map_err(|e| match e {
            crate::book::store::StoreError::Exists(_) => DeskError::new(
                ErrorKind::Refused,
                "only an empty book is filled with invented jobs",
            ),
            e => e.into(),
        })?;
        let around = JobContext {
            today: self.today(),
            staff: self.store.staff()?,
            practice: self.store.practice()?,
            others: Vec::new(),
            questions: Vec::new(),
            sign_in: false,
        };
        let (send, receive) = sync_channel::<Vec<Prepared>>(1);
        let store = &mut self.store;
        let entered = std::thread::scope(|scope| {
            let prepared = scope.spawn(move || {
                let mut batch = Vec::with_capacity(BATCH);
                for (invented, n) in jobs.zip(1_i64..) {
                    let mut bulk = judged(invented, &around);
                    // The number that the book would give.
                    bulk.job.number = Some((1000 + n).to_string());
                    batch.push(prepare(bulk)?);
                    if batch.len() == BATCH && send.send(std::mem::take(&mut batch)).is_err() {
                        // The writer has failed and reports the error itself.
                        return Ok(());
                    }
                }
                send.send(batch).unwrap_or_default();
                Ok::<(), crate::book::store::StoreError>(())
            });
            let mut next = 1;
            for batch in receive {
                let write = store.write()?;
                next = write.enter_invented(&batch, next)?;
                write.commit()?;
            }
            match prepared.join() {
                Ok(done) => done?,
                Err(panic) => std::panic::resume_unwind(panic),
            }
            Ok::<i64, DeskError>(next - 1)
        })?;
        self.store.end_bulk()?;
        Ok(usize::try_from(entered).unwrap_or(usize::MAX))
    }
}

/// Makes the moves of an invented job until a gate holds it.
fn judged(mut invented: Invented, around: &JobContext) -> BulkJob {
    let mut passed: Vec<Passed> = Vec::new();
    let mut held = None;
    for step in invented.moves {
        let on = JobContext {
            today: step.on,
            staff: around.staff.clone(),
            practice: around.practice.clone(),
            others: Vec::new(),
            questions: Vec::new(),
            sign_in: false,
        };
        if lets_through(&on.findings(step.gate, &step.before, &[], &passed)) {
            passed.push(Passed {
                gate: step.gate,
                job: step.before,
            });
        } else {
            held = Some(step.before);
            break;
        }
    }
    if let Some(before) = held {
        if invented.job.stage() == Stage::Collected {
            passed.clear();
            invented.job.past = Some(true);
        } else {
            invented.job = before;
        }
    }
    let past = invented.job.is_past();
    let moves = passed.len();
    BulkJob {
        job: invented.job,
        passed: passed.into_iter().map(|p| (p.gate, p.job)).collect(),
        events: invented
            .events
            .into_iter()
            .filter(|e| e.moves <= moves)
            .map(|mut e| {
                if e.moves == 0 {
                    e.detail["past"] = past.into();
                }
                BulkEvent {
                    at: e.at,
                    by: e.by.map(str::to_owned),
                    what: e.what,
                    detail: e.detail.to_string(),
                }
            })
            .collect(),
    }
}
