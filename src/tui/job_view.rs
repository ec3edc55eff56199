//! The job that is open: as it was read, with what follows from it and what takes its entries back.

use serde_json::Value;

use crate::book::desk::{Event, OpenJob};
use crate::job::{Job, Reason, Section, Stage};
use crate::judge::gate::Finding;
use crate::judge::rules::carry::NotCarried;
use crate::views::WorkedLine;

/// The job that is open.
#[derive(Debug)]
pub struct JobView {
    /// The job.
    pub open: OpenJob,
    /// What its next gate says, worst first.
    pub findings: Vec<Finding>,
    /// What happened to it.
    pub history: Vec<Event>,
    /// Values worked out from it.
    pub worked: Vec<WorkedLine>,
    /// What it did not take over from the job it was begun from.
    pub not_carried: Vec<NotCarried>,
    /// Changes that take the last entries back, the latest last.
    pub undo: Vec<UndoEntry>,
}

impl JobView {
    /// Whether it has a visit, or can have one.
    pub fn has_visit(&self) -> bool {
        self.open.job.reason == Some(Reason::Recheck) || self.open.job.stage() == Stage::Collected
    }
}

/// A change that takes an entry back.
#[derive(Debug, Clone, PartialEq)]
pub struct UndoEntry {
    /// The section of the entry.
    pub section: Section,
    /// What is recorded to take it back.
    pub change: Value,
    /// What the entry had left where it changed something; `None` where that cannot be written, and
    /// the entry is not taken back.
    pub wrote: Option<Value>,
}

impl UndoEntry {
    /// A change that takes an entry back, made of the job as the entry has left it.
    pub fn of(job: &Job, section: Section, change: Value) -> Self {
        Self {
            wrote: at_the_places_in(job, section, &change),
            section,
            change,
        }
    }

    /// Whether the job still has what the entry wrote. Where somebody has written something else since,
    /// taking the entry back would take theirs back.
    pub fn is_unchanged(&self, job: &Job) -> bool {
        let now = at_the_places_in(job, self.section, &self.change);
        now.is_some() && now == self.wrote
    }
}

/// What the program keeps beside the entries of the handover: it goes its own way.
const KEPT_BESIDE: &str = "adjusted_after_heights";

/// Returns what a section of a job has at the places that a change names.
fn at_the_places_in(job: &Job, section: Section, change: &Value) -> Option<Value> {
    let section = job.section(section).ok()?;
    Some(at_the_places_of(change, &section))
}

/// Returns what a section has at the places that a change names; null where it has nothing.
fn at_the_places_of(change: &Value, section: &Value) -> Value {
    match change {
        Value::Object(map) => map
            .iter()
            .filter(|(key, _)| *key != KEPT_BESIDE)
            .map(|(key, inner)| {
                let at = section.get(key).unwrap_or(&Value::Null);
                (key.clone(), at_the_places_of(inner, at))
            })
            .collect(),
        _ => section.clone(),
    }
}
