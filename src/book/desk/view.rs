//! What the desk returns: jobs, lines of lists, events of history.

use chrono::{NaiveDate, NaiveDateTime};
use serde::Serialize;
use serde_json::Value;

use crate::book::store::Held;
use crate::job::{Job, Moment, Outcome, Stage};
use crate::judge::gate::{Acceptance, Finding, Passed, Question};

/// The current state of a job, with what the gate needs to know of it.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenJob {
    /// Number in the book.
    pub number: String,
    /// Counts every change; a change made against an older one is refused.
    pub revision: i64,
    /// The job.
    pub job: Job,
    /// Every acceptance ever given, oldest first.
    pub acceptances: Vec<Acceptance>,
    /// The gates it has passed in this round.
    pub passed: Vec<Passed>,
    /// The questions that are not answered yet, the earliest first; they hold the job.
    pub questions: Vec<Question>,
}

/// A job after a change, with the findings of its next gate: both are known from the change, so
/// that the caller need not read or judge the job again.
#[derive(Debug, Clone, PartialEq)]
pub struct JobWithFindings {
    /// The job.
    pub open: OpenJob,
    /// Findings of its next gate, worst first; empty where no gate lies ahead.
    pub findings: Vec<Finding>,
}

/// One line of the worklist or of a look-up.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct JobLine {
    /// Number in the book.
    pub number: String,
    /// Its stage.
    pub stage: Stage,
    /// Whether it is imported history.
    pub past: bool,
    /// The wearer's name.
    pub wearer: String,
    /// The wearer's date of birth.
    pub born: Option<NaiveDate>,
    /// Day on which the laboratory owes the pair.
    pub due_on: Option<NaiveDate>,
    /// Day promised to the wearer.
    pub promised_on: Option<NaiveDate>,
    /// Appointment for the collection.
    pub collection_at: Option<Moment>,
    /// Whether the laboratory is late.
    pub late: bool,
    /// Ids of the checks that hold it at its next gate.
    pub held: Held,
    /// Outcome of a visit, once decided.
    pub outcome: Option<Outcome>,
    /// Day on which the wearer of a visit that waits comes back.
    pub review_on: Option<NaiveDate>,
}

impl JobLine {
    /// Its stage in words; a closed visit shows its outcome.
    pub fn stage_words(&self) -> String {
        match (self.stage, self.outcome) {
            (Stage::Cancelled, Some(o)) if o != Outcome::Waiting => format!("closed: {o}"),
            (stage, _) => stage.to_string(),
        }
    }
}

/// One event of a job's history.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Event {
    /// When.
    pub at: NaiveDateTime,
    /// Who; absent for the program itself.
    pub by: Option<String>,
    /// What was done: "imported", "recorded", "moved", "accepted", "sent back" and so on.
    pub what: String,
    /// The content: what changed from what to what, the reason, the failed readings.
    pub detail: Value,
}

/// Result of a move.
#[derive(Debug, Clone, PartialEq)]
pub struct Advance {
    /// Whether the job moved.
    pub moved: bool,
    /// Its stage now.
    pub stage: Stage,
    /// What the gate found.
    pub findings: Vec<Finding>,
}

/// Result of an acceptance.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Accepted {
    /// Whether anything was settled.
    pub ok: bool,
    /// The result in one sentence.
    pub message: String,
}
