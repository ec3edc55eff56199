//! Judging many jobs: one core reads, the other judges, and no more than a few batches are in memory.

use std::sync::mpsc::sync_channel;

use chrono::NaiveDate;

use super::error::DeskError;
use super::job_context::{OTHERS, next_gate};
use super::open::Desk;
use super::view::OpenJob;
use crate::gate::{Finding, Surroundings, findings};
use crate::job::{Gate, Job, StaffRoll};
use crate::practice::Practice;

/// Jobs read and judged together.
const BATCH: usize = 32;
/// Batches that may be under way.
const UNDER_WAY: usize = 2;

/// A job with the same wearer's others, before it is judged.
#[derive(Debug)]
pub(super) struct Unjudged {
    pub(super) open: OpenJob,
    pub(super) others: Vec<Job>,
}

/// A job and what its next gate says.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// The job.
    pub open: OpenJob,
    /// The gate that lies ahead; none for a job that has come to its end.
    pub gate: Option<Gate>,
    /// What that gate says, worst first.
    pub findings: Vec<Finding>,
}

/// What stands around every job alike.
#[derive(Debug)]
pub(super) struct Alike {
    pub(super) today: NaiveDate,
    pub(super) staff: StaffRoll,
    pub(super) practice: Practice,
}

impl Alike {
    fn judge(&self, job: Unjudged) -> Judged {
        let Unjudged { open, others } = job;
        let around = Surroundings {
            today: self.today,
            staff: &self.staff,
            practice: &self.practice,
            others: &others,
            question: open.question.as_ref(),
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

/// Reads jobs here, judges them on another core and tells of them here, in their order.
///
/// # Errors
/// Those of `read` and `tell`; nothing is told after one.
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
                    // Reading or telling has failed, and says why.
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
    /// Judges every open job at its next gate and tells of each, in the order of the worklist.
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
        };
        let read = |batch: &[String]| {
            // One look at the file for a batch; nothing is held while somebody reads what is told.
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
