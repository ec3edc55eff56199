//! Taking jobs in: from job files, or new ones begun at the desk.

use serde_json::json;

use super::{Desk, DeskError, ErrorKind, OpenJob, with_trial_day};
use crate::job::{Job, Stage, read_jobs};
use crate::store::Beside;

/// What an import did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Imported {
    /// The numbers given, in the order of the file.
    pub numbers: Vec<String>,
    /// What the file held and was not taken over.
    pub ignored: Vec<String>,
}

impl Desk {
    /// Takes in a job file, all of it or nothing.
    ///
    /// A job enters at measured and is moved by the gate like any other; one marked as past keeps
    /// its stage and number and is never shown as checked.
    ///
    /// # Errors
    /// [`DeskError`] with the place in the file.
    pub fn import(&mut self, text: &str, by: Option<&str>) -> Result<Imported, DeskError> {
        let jobs = read_jobs(text)?;
        let ignored = ["accepted", "history"]
            .into_iter()
            .filter(|key| text.contains(&format!("\"{key}\"")))
            .map(|key| format!("{key}: kept by the book it comes from, not taken over"))
            .collect();
        let numbers = self
            .take_in(jobs, by, "imported")?
            .into_iter()
            .map(|j| j.number)
            .collect();
        Ok(Imported { numbers, ignored })
    }

    /// Begins a new job for a wearer.
    ///
    /// # Errors
    /// [`ErrorKind::Input`] without a name.
    pub fn new_job(&mut self, wearer: &str, by: Option<&str>) -> Result<OpenJob, DeskError> {
        let name = wearer.trim();
        if name.is_empty() {
            return Err(DeskError::new(
                ErrorKind::Input,
                "a job belongs to a named wearer: type the name",
            ));
        }
        let mut job = Job::default();
        job.wearer.name = Some(name.to_owned());
        let mut begun = self.take_in(vec![job], by, "begun")?;
        begun
            .pop()
            .ok_or_else(|| DeskError::new(ErrorKind::File, "the job was not kept"))
    }

    pub(super) fn take_in(
        &mut self,
        jobs: Vec<Job>,
        by: Option<&str>,
        what: &str,
    ) -> Result<Vec<OpenJob>, DeskError> {
        if let Some(by) = by {
            self.person(by)?;
        }
        let (staff, practice) = (self.staff()?, self.practice()?);
        let (today, now, clock) = (self.today(), self.clock.now(), self.clock);
        let mut prepared = Vec::with_capacity(jobs.len());
        for mut job in jobs {
            if !job.is_past() {
                job.stage = Some(Stage::Measured);
                job.number = None;
            } else if job.stage.is_none() {
                job.stage = Some(Stage::Collected);
            }
            // The row does not exist yet: no id is the new one's, so none of the others is left out.
            let others = self.store.others(-1, &job, super::OTHERS)?;
            let around = super::Around {
                today,
                staff: staff.clone(),
                practice: practice.clone(),
                others,
            };
            let held = around.held(&job, &[], &[], false);
            prepared.push((job, held));
        }
        let write = self.store.write()?;
        let mut numbers = Vec::with_capacity(prepared.len());
        for (mut job, held) in prepared {
            let beside = Beside {
                held: &held,
                held_on: today,
                question: None,
            };
            let row = write.add(&mut job, beside)?;
            let detail = json!({"past": job.is_past(), "job": job.to_file()});
            write.event(row.id, now, by, what, &with_trial_day(clock, detail))?;
            numbers.push(row.number);
        }
        write.commit()?;
        numbers.iter().map(|n| self.load(n)).collect()
    }
}
