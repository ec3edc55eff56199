//! What the checks of a job need to know besides the job.

use chrono::NaiveDate;

use super::error::DeskError;
use super::open::Desk;
use super::session::sign_in_is_on;
use super::view::OpenJob;
use crate::book::store::{Held, JobRow, Write};
use crate::job::{Gate, Job, Repair, StaffRoll};
use crate::judge::gate::{
    Acceptance, Finding, Passed, Question, Surroundings, findings, of_repair,
};
use crate::practice::Practice;

/// How many of the same wearer's other jobs the checks look at.
pub(super) const OTHERS: i64 = 50;

/// What the checks of a job need to know besides the job; read once for a write.
pub(super) struct JobContext {
    pub(super) today: NaiveDate,
    pub(super) staff: StaffRoll,
    pub(super) practice: Practice,
    pub(super) others: Vec<Job>,
    pub(super) questions: Vec<Question>,
    pub(super) sign_in: bool,
}

impl JobContext {
    /// Reads the context inside the write that judges the job: another process may have
    /// changed it since the job was read.
    pub(super) fn within(
        write: &Write<'_>,
        today: NaiveDate,
        row: &JobRow,
    ) -> Result<Self, DeskError> {
        Self::among(write.staff()?, write, today, row)
    }

    /// As [`JobContext::within`], where the staff list has been read in this write.
    pub(super) fn among(
        staff: StaffRoll,
        write: &Write<'_>,
        today: NaiveDate,
        row: &JobRow,
    ) -> Result<Self, DeskError> {
        Ok(Self {
            questions: row.questions.clone(),
            ..Self::of_new(staff, write, today, row.id, &row.job)?
        })
    }

    /// As [`JobContext::among`] for a job without a row; `id` is not the id of another job.
    pub(super) fn of_new(
        staff: StaffRoll,
        write: &Write<'_>,
        today: NaiveDate,
        id: i64,
        job: &Job,
    ) -> Result<Self, DeskError> {
        Ok(Self {
            today,
            staff,
            practice: write.practice()?,
            others: write.others(id, job, OTHERS)?,
            questions: Vec::new(),
            sign_in: sign_in_is_on(write)?,
        })
    }

    pub(super) fn findings(
        &self,
        gate: Gate,
        job: &Job,
        acceptances: &[Acceptance],
        passed: &[Passed],
    ) -> Vec<Finding> {
        findings(gate, job, self.surroundings(), acceptances, passed)
    }

    /// What holds a repair of a job.
    pub(super) fn of_repair(&self, open: &OpenJob, repair: &Repair) -> Vec<Finding> {
        of_repair(&open.job, repair, self.surroundings(), &open.acceptances)
    }

    fn surroundings(&self) -> Surroundings<'_> {
        Surroundings {
            sign_in: self.sign_in,
            today: self.today,
            staff: &self.staff,
            practice: &self.practice,
            others: &self.others,
            questions: &self.questions,
        }
    }

    /// Findings of the next gate of a job; empty where no gate lies ahead.
    pub(super) fn ahead(
        &self,
        job: &Job,
        acceptances: &[Acceptance],
        passed: &[Passed],
    ) -> Vec<Finding> {
        match next_gate(job) {
            Some(gate) => self.findings(gate, job, acceptances, passed),
            None => Vec::new(),
        }
    }

    /// Ids of the checks that hold a job at its next gate, each once.
    pub(super) fn held(&self, job: &Job, acceptances: &[Acceptance], passed: &[Passed]) -> Held {
        held_by(&self.ahead(job, acceptances, passed))
    }
}

/// The gate that lies ahead of a job.
pub(super) fn next_gate(job: &Job) -> Option<Gate> {
    job.stage().next_gate().filter(|_| !job.is_past())
}

/// Ids of the checks with open findings, each once, in the order of the findings.
pub(super) fn held_by(ahead: &[Finding]) -> Held {
    let mut ids: Vec<&str> = Vec::new();
    for finding in ahead {
        if finding.is_open() && !ids.contains(&finding.check.word()) {
            ids.push(finding.check.word());
        }
    }
    ids.into_iter().collect()
}

impl Desk {
    /// Returns a job with its acceptances, passed gates and open questions.
    pub fn load(&self, number: &str) -> Result<OpenJob, DeskError> {
        let row = self.store.job(number)?;
        self.open_job(row)
    }

    pub(super) fn open_job(&self, row: JobRow) -> Result<OpenJob, DeskError> {
        Ok(OpenJob {
            acceptances: self.store.acceptances(row.id)?,
            passed: self.store.passed(row.id)?,
            questions: row.questions,
            number: row.number,
            revision: row.revision,
            job: row.job,
        })
    }

    /// Returns the findings of a gate for the current state of a job, worst first.
    pub fn findings(&self, job: &OpenJob, gate: Gate) -> Result<Vec<Finding>, DeskError> {
        let around = self.around(job, self.store.id_of(&job.number)?)?;
        Ok(around.findings(gate, &job.job, &job.acceptances, &job.passed))
    }

    pub(super) fn around(&self, open: &OpenJob, id: i64) -> Result<JobContext, DeskError> {
        Ok(JobContext {
            today: self.today(),
            staff: self.store.staff()?,
            practice: self.store.practice()?,
            others: self.store.others(id, &open.job, OTHERS)?,
            questions: open.questions.clone(),
            sign_in: self.security()?.sign_in,
        })
    }
}
