//! What a field is: one value of a job that a person may type.

use serde_json::Value;

use super::choose::offered;
use crate::eye::Eye;
use crate::job::{Job, Section};

/// The two directions in which prism is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PrismAxis {
    /// Base in is positive, base out negative.
    In,
    /// Base up is positive, base down negative.
    Up,
}

impl PrismAxis {
    /// The words of the positive and the negative direction.
    pub const fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::In => ("in", "out"),
            Self::Up => ("up", "down"),
        }
    }
}

/// How a value is typed, shown and stepped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// One line of words.
    Text,
    /// Words over several lines.
    Notes,
    /// A day.
    Date,
    /// A day and a time.
    Moment,
    /// A written power: exact eighths of a dioptre, sign required.
    Power,
    /// A power to the hundredth (a thousandth is kept), sign required.
    Reading,
    /// The axis of a cylinder, degrees, 1 to 180.
    Axis,
    /// An addition, never negative; eighths in a prescription.
    Addition,
    /// Prism with its base direction.
    Prism(PrismAxis),
    /// A surface curve in dioptres at index 1.530.
    Curve,
    /// A length, mm.
    Length,
    /// An angle, degrees.
    Angle,
    /// A refractive index.
    Index,
    /// A share, percent.
    Percent,
    /// A filter category, 0 to 4.
    Category,
    /// Yes or no.
    Flag,
    /// One of a list of words.
    Choice(&'static [&'static str]),
    /// Free words, comma separated.
    Words,
    /// Several of a list of words, comma separated.
    Advice(&'static [&'static str]),
    /// A name of the staff list.
    Staff,
    /// A key of the materials table.
    Material,
}

/// One value of a job that a person may type.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Field {
    /// The section it is recorded in.
    pub section: Section,
    /// Its keys inside the section, joined by points.
    pub path: &'static str,
    /// What it is called beside its value.
    pub label: &'static str,
    /// Its unit as written after the value; empty when there is none.
    pub unit: &'static str,
    /// How it is typed.
    pub kind: Kind,
    /// The eye it belongs to.
    pub eye: Option<Eye>,
    /// Fields of the two eyes that belong side by side share this label.
    pub row: &'static str,
    /// One line: what it is and what to type.
    pub help: &'static str,
}

impl Field {
    /// Returns one line that says what the field is and what may be typed: of a list, its words.
    pub fn hint(&self) -> String {
        match self.kind {
            Kind::Choice(words) | Kind::Advice(words)
                if words.iter().any(|w| !self.help.contains(w)) =>
            {
                format!("{}: {}", self.help, offered(words))
            }
            _ => self.help.to_owned(),
        }
    }

    /// Returns the path from the job (`fitting.right.vertex_mm`).
    pub fn full_path(&self) -> String {
        format!("{}.{}", self.section.word(), self.path)
    }

    /// Returns the field's value inside its section's JSON.
    pub fn value_in<'a>(&self, section: &'a Value) -> Option<&'a Value> {
        self.path
            .split('.')
            .try_fold(section, |at, key| at.get(key))
    }

    /// Returns the field's value in a job.
    pub fn value(&self, job: &Job) -> Option<Value> {
        self.value_in(&job.section(self.section)).cloned()
    }

    /// Whether the value is a power as a prescriber writes it, on an exact eighth.
    pub(super) fn is_written(&self) -> bool {
        self.section == Section::Prescription
    }
}
