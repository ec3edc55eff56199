//! What each screen remembers.

use serde_json::Value;

use super::line::Line;
use crate::desk::{BackupState, Event, JobLine, OpenJob};
use crate::eye::Eye;
use crate::gate::Finding;
use crate::job::{Job, Section, Stage};
use crate::rules::carry::NotCarried;
use crate::views::WorkedLine;

/// The worklist.
#[derive(Debug, Default)]
pub struct Worklist {
    /// Open jobs in the order in which they need somebody.
    pub lines: Vec<JobLine>,
    /// The selected one.
    pub selected: usize,
    /// How the book stands to its backups.
    pub backup: Option<BackupState>,
    /// Whether a deed has changed a job since the lists were read.
    pub stale: bool,
}

impl Worklist {
    /// The selected line.
    pub fn line(&self) -> Option<&JobLine> {
        self.lines.get(self.selected)
    }
}

/// The look-up.
#[derive(Debug, Default)]
pub struct Lookup {
    /// What is looked for.
    pub line: Line,
    /// What was found.
    pub found: Vec<JobLine>,
    /// The selected one.
    pub selected: usize,
}

/// The collections of the day.
#[derive(Debug, Default)]
pub struct Collections {
    /// The day's handovers by time.
    pub lines: Vec<JobLine>,
    /// The selected one.
    pub selected: usize,
    /// The check the cursor is on.
    pub step: usize,
    /// The job whose handover the cursor was put into.
    pub begun: Option<String>,
    /// The handover in front is another than it was, and why: the next key that answers says so
    /// first.
    pub replaced: Option<String>,
    /// A pair that waits and whose wearer has come without an appointment today.
    pub walk_in: Option<String>,
    /// The last check was answered and the cursor was not moved since: the keys for what comes then
    /// are keys even where words could be typed.
    pub done: bool,
    /// What was sent to be kept says that the frame was adjusted.
    pub adjusted: bool,
}

/// An entry being typed.
#[derive(Debug, Clone)]
pub struct Edit {
    /// Path of the field.
    pub path: String,
    /// What is typed.
    pub line: Line,
    /// Why it was not kept, and what to type.
    pub error: Option<String>,
    /// Whether anything was typed: the same value typed anew was taken anew.
    pub touched: bool,
}

/// A change that takes an entry back.
#[derive(Debug, Clone, PartialEq)]
pub struct TakesBack {
    /// The section of the entry.
    pub section: Section,
    /// What is recorded to take it back.
    pub change: Value,
    /// What the entry had left where it changed something.
    pub wrote: Value,
}

impl TakesBack {
    /// A change that takes an entry back, made of the job as the entry has left it.
    pub fn of(job: &Job, section: Section, change: Value) -> Self {
        Self {
            wrote: at_the_places_of(&change, &job.section(section)),
            section,
            change,
        }
    }

    /// Whether what the entry wrote still stands. Where somebody has written something else since,
    /// taking the entry back would take theirs back.
    pub fn still_stands(&self, job: &Job) -> bool {
        at_the_places_of(&self.change, &job.section(self.section)) == self.wrote
    }
}

/// What the program keeps beside the entries of the handover: it goes its own way.
const KEPT_BESIDE: &str = "adjusted_after_heights";

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

/// The form of a job.
#[derive(Debug)]
pub struct JobScreen {
    /// The job.
    pub open: OpenJob,
    /// What its next gate says, worst first.
    pub findings: Vec<Finding>,
    /// What happened to it.
    pub history: Vec<Event>,
    /// Values worked out from it.
    pub worked: Vec<WorkedLine>,
    /// What it did not take over from the job it was begun from.
    pub left: Vec<NotCarried>,
    /// Place in the row of sections.
    pub tab: usize,
    /// Row of the cursor.
    pub row: usize,
    /// Column of the cursor, in rows that have one for each eye.
    pub eye: Eye,
    /// The entry being typed.
    pub edit: Option<Edit>,
    /// What was sent to be kept and is not kept yet.
    pub sent: Option<Edit>,
    /// Section, row and column from which the cursor goes on to the next entry that the gate asks
    /// for, once what was sent is kept: only then is it known what that is.
    pub onward: Option<(usize, usize, Eye)>,
    /// Where the form opened, until the next entry was asked for.
    pub opened_at: Option<(usize, usize, Eye)>,
    /// Changes that take the last entries back, the latest last.
    pub undo: Vec<TakesBack>,
}

/// The sections of the form in their order; the history has no section of its own.
pub const TABS: [(&str, Option<Section>); 9] = [
    ("wearer", Some(Section::Wearer)),
    ("prescription", Some(Section::Prescription)),
    ("fitting", Some(Section::Fitting)),
    ("frame", Some(Section::Frame)),
    ("lenses", Some(Section::Lenses)),
    ("order", Some(Section::Order)),
    ("verification", Some(Section::Readings)),
    ("handover", Some(Section::Handover)),
    ("history", None),
];

impl JobScreen {
    /// Where the form begins to be filled: the section the next move is about.
    pub fn tab_for(stage: Stage) -> usize {
        match stage {
            Stage::Measured => 0,
            Stage::Ordered => 6,
            Stage::Verified => 7,
            Stage::Collected | Stage::Cancelled => 8,
        }
    }

    /// The section in front.
    pub fn section(&self) -> Option<Section> {
        TABS.get(self.tab).and_then(|t| t.1)
    }
}
