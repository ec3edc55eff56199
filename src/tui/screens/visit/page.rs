//! The pages of a visit.

use crate::job::Complaint;

/// A page of the visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Page {
    /// The values side by side.
    #[default]
    Differences,
    /// The order of work.
    Steps,
    /// The complaints, and what they and the values point to.
    Causes,
    /// What was found and decided.
    Outcome,
}

impl Page {
    /// Every page, in order.
    pub const ALL: [Self; 4] = [Self::Differences, Self::Steps, Self::Causes, Self::Outcome];

    /// What a person calls it.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Differences => "differences",
            Self::Steps => "steps",
            Self::Causes => "causes",
            Self::Outcome => "outcome",
        }
    }

    pub(super) fn place(self) -> usize {
        Self::ALL.iter().position(|p| *p == self).unwrap_or(0)
    }
}

/// The letter of a complaint: a for the first.
pub(super) fn letter(complaint: Complaint) -> char {
    let place = Complaint::ALL.iter().position(|c| *c == complaint);
    ('a'..='z').nth(place.unwrap_or(0)).unwrap_or('a')
}
