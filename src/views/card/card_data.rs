//! The data of a card, computed once for a job and then arranged for any width as often
//! as it is drawn.

use std::ops::Deref;

use super::budgets::Budgets;
use super::changed_by_repairs::{Changed, changed_by_repairs};
use crate::job::Job;
use crate::practice::Practice;

/// Everything of a job's card that does not depend on its width.
#[derive(Debug, Clone)]
pub struct CardData {
    pub(super) budgets: Budgets,
    changed: Vec<Changed>,
}

impl CardData {
    /// Works out what a job's card says; `practice` has chosen the standard behind the budgets.
    pub fn of(job: &Job, practice: &Practice) -> Self {
        Self {
            budgets: Budgets::of(job, practice),
            ..Self::without_budgets(job)
        }
    }

    /// As [`CardData::of`], without budgets.
    pub(super) fn without_budgets(job: &Job) -> Self {
        Self {
            budgets: Budgets::default(),
            changed: changed_by_repairs(job),
        }
    }
}

/// A job with the data of its card.
#[derive(Clone, Copy)]
pub(super) struct Written<'a> {
    job: &'a Job,
    data: &'a CardData,
}

impl<'a> Written<'a> {
    pub(super) const fn of(job: &'a Job, data: &'a CardData) -> Self {
        Self { job, data }
    }

    /// Returns the values that repairs have changed since the handover.
    /// The job that is written.
    pub(super) const fn job(&self) -> &'a Job {
        self.job
    }

    pub(super) fn changed(&self) -> &'a [Changed] {
        &self.data.changed
    }
}

impl Deref for Written<'_> {
    type Target = Job;

    fn deref(&self) -> &Job {
        self.job
    }
}
