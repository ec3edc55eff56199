//! The data of a card, computed once for a job and then arranged for any width as often
//! as it is drawn.

use std::ops::Deref;

use serde_json::Value;

use super::budgets::Budgets;
use super::changed_by_repairs::{Changed, changed_by_repairs};
use crate::job::{Job, Section};
use crate::practice::Practice;

/// The sections whose values a card shows.
const SHOWN: [Section; 8] = [
    Section::Wearer,
    Section::Prescription,
    Section::Fitting,
    Section::Frame,
    Section::Lenses,
    Section::Order,
    Section::Readings,
    Section::Handover,
];

/// Everything of a job's card that does not depend on its width.
#[derive(Debug, Clone)]
pub struct CardData {
    pub(super) budgets: Budgets,
    sections: Vec<(Section, Value)>,
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
            sections: SHOWN.map(|s| (s, job.section(s))).into(),
            changed: changed_by_repairs(job),
        }
    }
}

/// A job with its sections as JSON, so that each is converted only once.
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
    pub(super) fn changed(&self) -> &'a [Changed] {
        &self.data.changed
    }

    /// Returns a section as JSON.
    pub(super) fn written(&self, section: Section) -> Option<&Value> {
        self.data
            .sections
            .iter()
            .find_map(|(s, value)| (*s == section).then_some(value))
    }
}

impl Deref for Written<'_> {
    type Target = Job;

    fn deref(&self) -> &Job {
        self.job
    }
}
