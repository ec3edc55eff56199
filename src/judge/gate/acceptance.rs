//! Acceptances: a warning settled by a person, bound to exactly the values it was given for.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// The exact values a finding rests on. An acceptance is bound to them.
pub(crate) type Values = Map<String, Value>;

/// A warning accepted with a reason. It is never deleted; when a value changes it no longer applies.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Acceptance {
    /// Id of the check.
    pub check: String,
    /// "right", "left", "pair" or absent for the job.
    pub eye: Option<String>,
    /// The values it was given for.
    pub values: Values,
    /// Who accepted.
    pub by: String,
    /// In which role.
    pub role: String,
    /// Why.
    pub reason: String,
    /// When.
    pub on: NaiveDate,
    /// What was on the screen: the sentence and the limit.
    #[serde(default)]
    pub shown: String,
}
