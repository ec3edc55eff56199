//! Judging many jobs: one thread reads, another judges; a few batches at most are in memory.

use std::sync::mpsc::sync_channel;

use chrono::NaiveDate;

use super::error::DeskError;
use super::job_context::{OTHERS, next_gate};
use super::open::Desk;
use super::view::OpenJob;
use crate::job::{Gate, Job, StaffRoll};
use crate::judge::gate::{Finding, Surroundings, findings};
use crate::practice::Practice;

/// Jobs read and judged together.
const BATCH: usize = 32;
/// Batches that may wait to be judged or reported.
const UNDER_WAY: usize = 2;

/// A job with the same wearer's others, before it is judged.
#[derive(Debug)]
pub(super) struct Unjudged {
    pub(super) open: OpenJob,
    pub(super) others: Vec<Job>,
}

/// A job and the findings of its next gate.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// The job.
    pub open: OpenJob,
    /// The next gate; `None` for a job that is collected or cancelled.
    pub gate: Option<Gate>,
    /// Findings of that gate, worst first.
    pub findings: Vec<Finding>,
}

/// The part of the context that all jobs share.
#[derive(Debug)]
pub(super) struct Alike {
    pub(super) today: NaiveDate,
    pub(super) staff: StaffRoll,
    pub(super) practice: Practice,
    pub(super) sign_in: bool,
}

impl Alike {
    fn judge(&self, job: Unjudged) -> Judged {
        let Unjudged { open, others } = job;
        let around = Surroundings {
            sign_in: self.sign_in,
            today: self.today,
            staff: &self.staff,
            practice: &self.practice,
            others: &others,
            questions: &open.questions,
        };
        let gate = next_gate(&open.job);
        let findings = gate.map_or_else(Vec::new, |gate| {
            findings(gate, &open.job, around, &open.acceptances, &open.passed)
        });
        Judged {
            open,
            gate,
            findings,
        }
    }
}

/// Reads jobs on this thread, judges them on another and passes each to `tell`, in their order.
///
/// # Errors
/// Those of `read` and `tell`; the first one ends the run.
pub(super) fn judge(
    numbers: &[String],
    alike: Alike,
    mut read: impl FnMut(&[String]) -> Result<Vec<Unjudged>, DeskError>,
    mut tell: impl FnMut(Judged) -> Result<(), DeskError>,
) -> Result<(), DeskError> {
    if numbers.len() <= BATCH {
        // Not worth a second core.
        return read(numbers)?
            .into_iter()
            .try_for_each(|job| tell(alike.judge(job)));
    }
    std::thread::scope(|scope| {
        let (send, receive) = sync_channel::<Vec<Unjudged>>(UNDER_WAY);
        let (give, take) = sync_channel::<Vec<Judged>>(UNDER_WAY);
        scope.spawn(move || {
            for batch in receive {
                let judged = batch.into_iter().map(|job| alike.judge(job)).collect();
                if give.send(judged).is_err() {
                    // `read` or `tell` has failed and reports the error itself.
                    return;
                }
            }
        });
        let mut under_way = 0;
        for batch in numbers.chunks(BATCH) {
            if send.send(read(batch)?).is_err() {
                break;
            }
            under_way += 1;
            if under_way == UNDER_WAY
                && let Ok(judged) = take.recv()
            {
                under_way -= 1;
                judged.into_iter().try_for_each(&mut tell)?;
            }
        }
        drop(send);
        for judged in take {
            judged.into_iter().try_for_each(&mut tell)?;
        }
        Ok(())
    })
}

impl Desk {
    /// Judges every open job at its next gate and passes each to `tell`, in the order of the worklist.
    ///
    /// # Errors
    /// [`DeskError`] of the file, and what `tell` returns.
    pub fn judge_open(
        &self,
        tell: impl FnMut(Judged) -> Result<(), DeskError>,
    ) -> Result<(), DeskError> {
        let numbers: Vec<String> = self.worklist()?.into_iter().map(|l| l.number).collect();
        let alike = Alike {
            today: self.today(),
            staff: self.store.staff()?,
            practice: self.store.practice()?,
            sign_in: self.security()?.sign_in,
        };
        let read = |batch: &[String]| {
            // One read transaction a batch; no lock is held while `tell` runs.
            let _at_once = self.store.at_once()?;
            batch
                .iter()
                .map(|number| {
                    let row = self.store.job(number)?;
                    let others = self.store.others(row.id, &row.job, OTHERS)?;
                    let open = self.open_job(row)?;
                    Ok(Unjudged { open, others })
                })
                .collect()
        };
        judge(&numbers, alike, read, tell)
    }
}
