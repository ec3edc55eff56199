//! Which column of a foreign CSV file holds which value of a job.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::ExchangeError;
use super::csv_out::RX_TEXT;
use crate::job::Stage;
use crate::job::fields::{self, at};

/// A mapping with every place explained, to be filled in.
pub const TEMPLATE: &str = r#"# Which column holds which value. Columns are named as in the first line of the file.
# What is not named here is not taken over.

# Where the jobs of the file stand: collected, ordered, verified, measured or cancelled.
# They enter as jobs from before the book: found and shown, never taken for checked.
stage = "collected"

# How the file writes days: %d day, %m month, %Y year with four digits. Without it, 2026-12-03.
# date_format = "%d/%m/%Y"

# Spreadsheets drop the plus sign of a power. With true, a power without a sign is a plus power;
# without it, such a row is refused.
unsigned_powers_are_plus = false

# A value for every row.
[constants]
# "order.laboratory" = "Harbour Bench"

# Place in the job = name of the column. Places are those of docs/job-file.md, such as fitting.right.cd_mm.
# prescription.right.rx_text takes a whole written power, such as -2.25/-0.75x90 add +2.00.
[columns]
"wearer.name" = "Name"
# "number" = "Job"
# "wearer.born" = "Born"
# "wearer.phone" = "Phone"
# "prescription.tested_on" = "Tested"
# "prescription.right.rx_text" = "Rx right"
# "prescription.left.rx_text" = "Rx left"
# "fitting.right.cd_mm" = "PD right"
# "fitting.left.cd_mm" = "PD left"
# "frame.name" = "Frame"
"#;

/// A mapping as read from its TOML file ([`TEMPLATE`] explains every key).
#[derive(Debug, Clone, PartialEq, Eq, Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Mapping {
    /// The stage of the jobs, unless a column gives it; `None` for `collected`.
    pub stage: Option<Stage>,
    /// The pattern of dates in the file.
    pub date_format: Option<String>,
    /// Whether a power without a sign is a plus power.
    pub unsigned_powers_are_plus: bool,
    /// Values of every row by their place in the job.
    pub constants: BTreeMap<String, String>,
    /// Names of columns by the place in the job.
    pub columns: BTreeMap<String, String>,
}

impl Mapping {
    /// Reads a mapping.
    ///
    /// # Errors
    /// [`ExchangeError`] naming the line, or the place that no job has.
    pub fn read(text: &str) -> Result<Self, ExchangeError> {
        let mapping: Self = toml::from_str(text).map_err(|e| {
            let line = e
                .span()
                .and_then(|s| text.get(..s.start))
                .map_or(1, |before| before.lines().count().max(1));
            ExchangeError::at(format!("mapping line {line}"), e.message())
        })?;
        for place in mapping.columns.keys().chain(mapping.constants.keys()) {
            if !is_place(place) {
                return Err(ExchangeError::at(
                    format!("mapping: {place:?}"),
                    "is no place of a job: they are written as in docs/job-file.md, such as fitting.right.cd_mm",
                ));
            }
        }
        let name = at!(wearer.name).full();
        if !mapping.columns.contains_key(name) && !mapping.constants.contains_key(name) {
            return Err(ExchangeError::at(
                "mapping: \"wearer.name\"",
                "is not named: a job belongs to a named wearer",
            ));
        }
        Ok(mapping)
    }

    /// Returns the mapping of what this program writes itself.
    pub fn own() -> Self {
        Self {
            columns: super::csv_out::header()
                .into_iter()
                .filter(|name| is_place(name) && !RX_TEXT.iter().any(|(rx, _)| rx == name))
                .map(|name| (name.clone(), name))
                .collect(),
            ..Self::default()
        }
    }
}

fn is_place(place: &str) -> bool {
    matches!(place, "number" | "stage")
        || RX_TEXT.iter().any(|(rx, _)| *rx == place)
        || fields::find(place).is_some()
}
