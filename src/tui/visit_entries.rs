//! The entries of a visit's outcome: what each is called, and the words it is chosen from.

use crate::job::fields::{FieldValue, Record};
use crate::job::{Cause, CostBearer, Job, Outcome};

/// An entry of the outcome.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum VisitEntry {
    /// The wearer's words.
    Complaint,
    /// What was found.
    Found,
    /// Why.
    Cause,
    /// What was decided.
    Outcome,
    /// Who bears the cost.
    AtCostOf,
    /// When the wearer comes back.
    ReviewOn,
    /// Why a remake is ordered as before.
    SameBecause,
    /// Who was told of words that may mean a disease.
    WarningTold,
}

impl VisitEntry {
    /// Every entry, in order.
    pub const ALL: [Self; 8] = [
        Self::Complaint,
        Self::Found,
        Self::Cause,
        Self::Outcome,
        Self::AtCostOf,
        Self::ReviewOn,
        Self::SameBecause,
        Self::WarningTold,
    ];

    /// Its key in the section.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Complaint => "complaint",
            Self::WarningTold => "warning_told",
            Self::Found => "found",
            Self::Cause => "cause",
            Self::Outcome => "outcome",
            Self::AtCostOf => "at_cost_of",
            Self::ReviewOn => "review_on",
            Self::SameBecause => "same_because",
        }
    }

    /// What a person calls it.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Complaint => "in the wearer's words",
            Self::WarningTold => "of warning signs told",
            Self::Found => "what was found",
            Self::Cause => "cause",
            Self::Outcome => "outcome",
            Self::AtCostOf => "at the cost of",
            Self::ReviewOn => "comes back on",
            Self::SameBecause => "ordered the same because",
        }
    }

    /// How its words are asked for.
    pub(crate) const fn asks(self) -> &'static str {
        match self {
            Self::Cause => "What was the cause?",
            Self::Outcome => "What is done about it?",
            Self::AtCostOf => "Who pays for what follows?",
            _ => self.title(),
        }
    }

    /// The words it is chosen from; nothing for what is typed.
    pub fn words(self) -> Vec<&'static str> {
        match self {
            Self::Cause => Cause::ALL.iter().map(|c| c.word()).collect(),
            Self::Outcome => Outcome::ALL.iter().map(|o| o.word()).collect(),
            Self::AtCostOf => CostBearer::ALL.iter().map(|c| c.word()).collect(),
            _ => Vec::new(),
        }
    }

    /// What is recorded.
    pub fn value(self, job: &Job) -> Option<String> {
        match job.visit.value_of(self.key())? {
            FieldValue::Text(text) => Some(text.to_owned()),
            FieldValue::Date(day) => Some(day.to_string()),
            _ => None,
        }
    }
}
