//! What not every country or practice has: each way is open unless the practice closes it.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

/// Something that a practice may do or must heed, and that can be switched off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Way {
    /// Supply to those under 16 and to the registered sight impaired is for registered people only.
    RestrictedGroups,
    /// A prescription is copied from a worn pair.
    Copies,
    /// Powers are adapted to a task.
    Adapted,
    /// A pair is posted or taken by another, without being fitted.
    Posted,
}

impl Way {
    /// Every way.
    pub const ALL: [Self; 4] = [
        Self::RestrictedGroups,
        Self::Copies,
        Self::Adapted,
        Self::Posted,
    ];

    /// The name under which it is set.
    pub const fn key(self) -> &'static str {
        match self {
            Self::RestrictedGroups => "restricted-groups",
            Self::Copies => "copies",
            Self::Adapted => "adapted",
            Self::Posted => "posted",
        }
    }

    /// What it decides, one sentence.
    pub(super) const fn meaning(self) -> &'static str {
        match self {
            Self::RestrictedGroups => {
                "Whether children and the sight impaired are for registered people only."
            }
            Self::Copies => "Whether a registered person may copy a worn pair, with a reason.",
            Self::Adapted => {
                "Whether a registered person may adapt powers to a task, with a reason."
            }
            Self::Posted => "Whether a pair may be posted or taken by another, not fitted.",
        }
    }

    /// Where the start comes from.
    pub(super) const fn source(self) -> &'static str {
        match self {
            Self::RestrictedGroups => "Opticians Act 1989 s27 (UK)",
            _ => "the practice's own country decides",
        }
    }
}

/// The ways that a practice has closed.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Closed(BTreeSet<Way>);

impl Closed {
    /// Whether none is closed.
    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Whether the way is closed.
    pub(super) fn has(&self, way: Way) -> bool {
        self.0.contains(&way)
    }

    /// Opens or closes a way.
    pub(super) fn set(&mut self, way: Way, is_open: bool) {
        if is_open {
            self.0.remove(&way);
        } else {
            self.0.insert(way);
        }
    }
}
