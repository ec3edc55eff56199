//! A question that holds a job until its answer is recorded.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// A question to the prescriber that is not answered yet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Question {
    /// The words of the question.
    pub text: String,
    /// Name of the person who asked, from the staff list.
    pub by: String,
    /// Day on which it was asked.
    pub on: NaiveDate,
}
