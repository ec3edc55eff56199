//! A finding: what a check has to say about a job, in numbers.

use std::borrow::Cow;

use serde::Serialize;

use super::acceptance::{Acceptance, Values};
use super::id::CheckId;
use super::work::Work;
use crate::job::{Gate, Role};
use crate::trade::eye::Eye;

/// How much a finding weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Shown, never holds the job.
    Note,
    /// Must be settled: a value changes, or somebody accepts it with a reason.
    Warning,
    /// Nobody may accept it.
    Stop,
}

impl Severity {
    /// The word of the severity.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Stop => "stop",
        }
    }
}

/// The lowest role that may accept a finding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
pub enum Acceptable {
    /// Nobody.
    #[serde(rename = "nobody")]
    Nobody,
    /// A dispensing optician or an optometrist.
    #[serde(rename = "dispensing optician")]
    Registrant,
}

impl Acceptable {
    /// The word of the role.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Nobody => "nobody",
            Self::Registrant => "dispensing optician",
        }
    }

    /// Whether somebody of that role may accept.
    pub fn allows(self, role: Role) -> bool {
        match self {
            Self::Nobody => false,
            Self::Registrant => role >= Role::DispensingOptician,
        }
    }
}

/// What a finding is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum About {
    /// The right eye.
    Right,
    /// The left eye.
    Left,
    /// The pair.
    Pair,
    /// The job.
    Job,
}

impl About {
    /// The word used in files, absent for the job.
    pub const fn word(self) -> Option<&'static str> {
        match self {
            Self::Right => Some("right"),
            Self::Left => Some("left"),
            Self::Pair => Some("pair"),
            Self::Job => None,
        }
    }
}

impl From<Eye> for About {
    fn from(eye: Eye) -> Self {
        match eye {
            Eye::Right => Self::Right,
            Eye::Left => Self::Left,
        }
    }
}

impl Serialize for About {
    fn serialize<S: serde::Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        self.word().serialize(s)
    }
}

/// What one check has found.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Finding {
    /// Id of the check.
    pub check: CheckId,
    /// Whose work the check is about.
    #[serde(skip)]
    pub work: Work,
    /// Gate of the check.
    pub gate: Gate,
    /// How much it weighs.
    pub severity: Severity,
    /// What it is about.
    pub eye: About,
    /// What is wrong, in numbers.
    pub message: String,
    /// The values it rests on.
    pub values: Values,
    /// The limit they were compared with, in words or as a number with its unit.
    pub limit: Option<String>,
    /// Where the limit comes from.
    pub source: Cow<'static, str>,
    /// Lowest role that may accept it.
    pub accept: Acceptable,
    /// How it is usually resolved, cheapest for the wearer first.
    pub ways_out: &'static [&'static str],
    /// The acceptance that settles it.
    pub settled: Option<Acceptance>,
    /// Path of the field to go to (`fitting.right.vertex_mm`).
    #[serde(skip)]
    pub field: String,
}

impl Finding {
    /// Whether the finding holds the job.
    pub fn is_open(&self) -> bool {
        self.severity != Severity::Note && self.settled.is_none()
    }

    /// Whether both findings say the same of the same values.
    pub fn is_same_as(&self, other: &Self) -> bool {
        self.check == other.check
            && self.severity == other.severity
            && self.eye == other.eye
            && self.values == other.values
    }
}
