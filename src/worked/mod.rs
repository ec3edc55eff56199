//! Values worked out from a job, live beside the entries they depend on.

use crate::gate::Practice;
use crate::job::Job;

/// One value worked out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WorkedLine {
    /// Path of the entry it belongs beside.
    pub field: String,
    /// What it is.
    pub label: String,
    /// The value with its unit.
    pub text: String,
}

/// Returns what can be worked out from a job.
pub fn lines(_job: &Job, _practice: &Practice) -> Vec<WorkedLine> {
    Vec::new()
}
