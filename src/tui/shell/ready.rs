//! What is kept ready for the screen that shows it, and what it was worked out from.

use crate::job::Job;
use crate::practice::Practice;
use crate::views::card::CardData;

/// What something was worked out from.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct From {
    number: String,
    job: Job,
    practice: Practice,
}

impl From {
    pub(super) fn is(&self, number: &str, job: &Job, practice: &Practice) -> bool {
        self.number == number && self.job == *job && self.practice == *practice
    }

    pub(super) fn new(number: &str, job: &Job, practice: &Practice) -> Self {
        Self {
            number: number.to_owned(),
            job: job.clone(),
            practice: practice.clone(),
        }
    }
}

/// What is kept ready.
#[derive(Debug, Default)]
pub struct Ready {
    pub(super) card: Option<(From, CardData)>,
}

impl Ready {
    /// Returns the facts of the card that is shown.
    pub fn card(&self) -> Option<&CardData> {
        self.card.as_ref().map(|(_, facts)| facts)
    }
}
