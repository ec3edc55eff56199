//! What a practice has chosen: its standard, and its own thresholds where they differ.

use serde::{Deserialize, Serialize};

use super::thresholds::Thresholds;
use crate::tolerance::{Options, Standard};

/// The practice's settings that decide what the checks say.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Practice {
    /// Name on screens and sheets.
    pub name: String,
    /// The tolerance standard.
    pub standard: Standard,
    /// How the standard is applied where it leaves a choice.
    pub options: Options,
    /// Thresholds that differ from their defaults.
    pub thresholds: Thresholds,
}
