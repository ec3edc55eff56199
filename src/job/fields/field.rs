//! What a field is: one value of a job that a person may type.

use serde_json::Value;

use super::choose::offered;
use super::job_part::JobPart;
use super::key_type::FieldValue;
use super::kind::FieldKind;
use super::record::FieldSpec;
use crate::job::{Job, Repair, Section};
use crate::trade::eye::Eye;

/// One value of a job that a person may type.
#[derive(Debug, Clone, Copy)]
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
    pub kind: FieldKind,
    /// The eye it belongs to.
    pub eye: Option<Eye>,
    /// Fields of the two eyes that belong side by side share this label.
    pub row: &'static str,
    /// One line: what it is and what to type.
    pub help: &'static str,
    /// Everything else that its row says.
    pub about: &'static FieldSpec,
    /// The part of the job it lies in.
    pub place: JobPart,
    /// The last of its keys.
    pub key: &'static str,
    pub(super) full: &'static str,
}

impl PartialEq for Field {
    fn eq(&self, other: &Self) -> bool {
        self.section == other.section && self.path == other.path
    }
}

impl Eq for Field {}

impl From<&Field> for String {
    fn from(field: &Field) -> Self {
        field.full_path()
    }
}

impl Field {
    /// Returns one line that says what the field is and what may be typed: of a list, its words.
    pub fn hint(&self) -> String {
        match self.kind {
            FieldKind::Choice(words) | FieldKind::Advice(words)
                if words.iter().any(|w| !self.help.contains(w)) =>
            {
                format!("{}: {}", self.help, offered(words))
            }
            _ => self.help.to_owned(),
        }
    }

    /// Returns the path from the job (`fitting.right.vertex_mm`).
    pub fn full_path(&self) -> String {
        self.full.to_owned()
    }

    /// As [`Field::full_path`], borrowed from the table.
    pub const fn full(&self) -> &'static str {
        self.full
    }

    /// Whether it names somebody of the staff list who is answerable for the values beside it.
    pub(crate) fn names_staff(&self) -> bool {
        self.kind == FieldKind::Staff
    }

    /// Returns the field's value in a job.
    pub fn read<'a>(&self, job: &'a Job) -> Option<FieldValue<'a>> {
        self.place.in_job(job, self.eye)?.value_of(self.key)
    }

    /// Returns the value that a repair gives the field; `None` where it left it alone.
    pub fn read_repair<'a>(&self, repair: &'a Repair) -> Option<FieldValue<'a>> {
        let part = self.place.in_repair(repair, self.eye)?;
        self.is_repaired().then(|| part.value_of(self.key))?
    }

    /// Returns the field's value in a job as the job file writes it.
    pub fn value(&self, job: &Job) -> Option<Value> {
        self.read(job).map(|value| value.to_json())
    }

    /// Whether the value is a power as a prescriber writes it, on an exact eighth.
    pub(super) fn is_written(&self) -> bool {
        self.section == Section::Prescription
    }
}
