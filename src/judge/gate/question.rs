//! Questions that hold a job until their answers are recorded.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use crate::job::QuestionTo;

/// A question that is not answered yet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Question {
    /// Whom it was put to; the prescriber, where an earlier version kept it without.
    #[serde(default)]
    pub of: QuestionTo,
    /// The words of the question.
    pub text: String,
    /// Name of the person who asked, from the staff list.
    pub by: String,
    /// Day on which it was asked.
    pub on: NaiveDate,
}
