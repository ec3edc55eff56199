//! The order: which laboratory, and when the pair is due.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// The order to the laboratory.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Order {
    /// Laboratory.
    pub laboratory: Option<String>,
    /// Day of the order.
    pub ordered_on: Option<NaiveDate>,
    /// Day on which the pair should be back.
    pub due_on: Option<NaiveDate>,
    /// The laboratory's reference.
    pub reference: Option<String>,
    /// Anything else.
    pub notes: Option<String>,
}
