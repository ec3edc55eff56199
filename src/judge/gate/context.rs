//! What a check may look at: the job, the practice's choices, the people, the day.

use std::cell::OnceCell;

use chrono::NaiveDate;

use crate::job::{Job, StaffRoll};
use crate::judge::derive::verification::{Reading, report};
use crate::judge::gate::acceptance::Acceptance;
use crate::judge::gate::question::Question;
use crate::practice::Practice;
use crate::practice::thresholds::Threshold;
use crate::trade::tolerance::Report;

/// What the checks of a job need besides the job itself.
#[derive(Debug, Clone, Copy)]
pub struct Surroundings<'a> {
    /// Whether everybody signs in: a name then counts only where its owner signed it.
    pub sign_in: bool,
    /// The day on which the checks run.
    pub today: NaiveDate,
    /// The people of the practice.
    pub staff: &'a StaffRoll,
    /// What the practice has chosen.
    pub practice: &'a Practice,
    /// The same wearer's other jobs.
    pub others: &'a [Job],
    /// The questions about this job that are not answered yet, the earliest first.
    pub questions: &'a [Question],
}

impl Surroundings<'_> {
    /// Whether the person of that name is a registered dispensing optician or optometrist.
    pub fn is_registrant(&self, name: &str) -> bool {
        self.staff.is_registrant(name, self.practice.registration)
    }

    /// Whether the person may serve a restricted wearer: registered, or a trainee whose supervisor is.
    pub fn may_serve_restricted(&self, name: &str) -> bool {
        self.staff
            .may_serve_restricted(name, self.practice.registration)
    }
}

/// The readings compared with the order, once for all the checks that ask.
#[derive(Debug, Default)]
pub struct Compared(OnceCell<Option<Report>>);

/// One job with its surroundings.
#[derive(Debug, Clone, Copy)]
pub struct Context<'a> {
    /// The job.
    pub job: &'a Job,
    /// What its checks need besides it.
    pub around: Surroundings<'a>,
    /// Every acceptance given for it: what was agreed decides what later values are compared with.
    pub acceptances: &'a [Acceptance],
    /// What has been compared of this job already.
    pub compared: &'a Compared,
}

impl<'a> Context<'a> {
    /// Returns the readings compared with the order; none where nothing can be compared.
    pub fn report(&self) -> Option<&'a Report> {
        self.compared
            .0
            .get_or_init(|| report(self.job, self.around.practice, Reading::AsRead).ok())
            .as_ref()
    }

    /// Returns the value in force of a threshold.
    pub fn threshold(&self, threshold: Threshold) -> f64 {
        self.around.practice.thresholds.get(threshold)
    }
}
