//! A job begun from an earlier one of the same wearer.

use serde_json::json;

use super::error::{DeskError, ErrorKind};
use super::history::with_trial_day;
use super::import::enter;
use super::job_context::{JobContext, held_by};
use super::open::Desk;
use super::session::acting;
use super::signing::Writer;
use super::view::OpenJob;
use crate::book::store::{NewEvent, RowExtras};
use crate::job::{Outcome, Reason};
use crate::judge::rules::carry::{NotCarried, begin, begin_after_visit, refusal};

/// Name of the event in the history of both jobs.
const fn event(reason: Reason) -> &'static str {
    match reason {
        Reason::New => "begun",
        Reason::SecondPair => "second pair begun",
        Reason::Reglaze => "reglaze begun",
        Reason::Replacement => "replacement begun",
        Reason::Remake => "remake begun",
        Reason::Recheck => "recheck begun",
    }
}

impl Desk {
    /// Begins a job from an earlier one, linked to it, with the values that may be carried over and
    /// where each comes from. Both jobs say so in their history.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] where no such job can follow the earlier one.
    pub fn begin_from(
        &mut self,
        number: &str,
        reason: Reason,
        by: &str,
    ) -> Result<OpenJob, DeskError> {
        let (today, now, clock) = (self.today(), self.clock.now(), self.clock);
        let write = self.store.write()?;
        let person = acting(self.session.as_deref(), &write, by)?;
        let old = write.job(number, None)?;
        if let Some(why) = refusal(reason, &old.job) {
            return Err(DeskError::new(
                ErrorKind::Refused,
                format!("no {reason} can be begun from job {number}: {why}"),
            ));
        }
        let practice = write.practice()?;
        let begun = begin(&old.job, &old.number, reason, today, &practice)?;
        // One transaction: a job that the first pair does not link to would not be found again.
        // The checks that hold an open pair do not change; only its revision does.
        let around = JobContext::within(&write, today, &old)?;
        let findings = around.ahead(
            &old.job,
            &write.acceptances(old.id)?,
            &write.passed(old.id)?,
        );
        let extras = RowExtras {
            held: &held_by(&findings),
            held_on: today,
            questions: &old.questions,
        };
        write.put(&old, extras)?;
        let what = event(reason);
        let writer = Writer {
            session: self.session.as_deref(),
            staff: &around.staff,
            at: now,
        };
        let by = Some(person.name.as_str());
        let new = enter(&write, clock, &writer, &old.job, begun.job, by, what)?;
        write.event(
            old.id,
            NewEvent {
                at: now,
                by: Some(&person.name),
                what,
                detail: &with_trial_day(clock, json!({"new_job": new})),
            },
        )?;
        write.commit()?;
        self.load(&new)
    }

    /// Begins a recheck of a collected job: a new job, linked to it, that carries its values over.
    ///
    /// # Errors
    /// As [`Desk::begin_from`].
    pub fn recheck(&mut self, number: &str, by: &str) -> Result<OpenJob, DeskError> {
        self.begin_from(number, Reason::Recheck, by)
    }

    /// Returns the values that were not carried over from the earlier job and are still missing.
    ///
    /// # Errors
    /// [`DeskError`] when the book cannot be read. The list is empty when the earlier job was erased.
    pub fn not_carried(&self, open: &OpenJob) -> Result<Vec<NotCarried>, DeskError> {
        let (Some(reason), Some(number)) = (open.job.reason, &open.job.linked_to) else {
            return Ok(Vec::new());
        };
        // A closed job needs no more measurements.
        if reason == Reason::New || !open.job.stage().is_open() {
            return Ok(Vec::new());
        }
        let old = match self.store.job(number) {
            Ok(old) => old,
            Err(error) => {
                let error = DeskError::from(error);
                return if error.kind == ErrorKind::NotFound {
                    Ok(Vec::new())
                } else {
                    Err(error)
                };
            }
        };
        let practice = self.practice()?;
        let (was, number, today) = (&old.job, &old.number, self.today());
        // As it was begun: from a visit that decided on it, or from the pair itself.
        let is_after_visit = reason == Reason::Remake
            && was.reason == Some(Reason::Recheck)
            && was.closed_as() == Some(Outcome::Remade);
        let begun = if is_after_visit {
            let first = was.linked_to.as_ref().and_then(|n| self.store.job(n).ok());
            let first = first.as_ref().map(|row| &row.job);
            begin_after_visit(was, number, first, today, &practice)?
        } else {
            begin(was, number, reason, today, &practice)?
        };
        let mut not_carried = begun.not_carried;
        not_carried.retain(|l| open.job.value_at(&l.path).is_none());
        Ok(not_carried)
    }
}
