//! Where a value that was not taken for this job comes from.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::words::words;

words! {
    /// What a value was when it was taken over.
    TakenAs {
        /// Measured on the wearer.
        Measured = "measured",
        /// As it was ordered.
        Ordered = "ordered",
        /// As the finished pair was handed over.
        HandedOver = "handed over",
        /// As it stood after a repair or an adjustment.
        Adjusted = "adjusted",
        /// As the wearer answered.
        Asked = "asked",
    }
}

words! {
    /// What a measurement was taken with.
    TakenWith {
        /// A millimetre ruler.
        Ruler = "ruler",
        /// A corneal reflection pupil gauge.
        PupilGauge = "pupil gauge",
        /// A photograph or a camera device.
        Camera = "camera",
        /// A distance gauge or calliper.
        Calliper = "calliper",
        /// Anything else.
        Other = "other",
    }
}

/// Where one value comes from.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Origin {
    /// Number of the job it was taken for.
    pub job: Option<String>,
    /// When it was taken.
    pub on: Option<NaiveDate>,
    /// Who took it.
    pub by: Option<String>,
    /// What it was taken with.
    pub with: Option<TakenWith>,
    /// Name of the frame it was taken in.
    pub frame: Option<String>,
    /// What it was then.
    #[serde(rename = "as")]
    pub taken_as: Option<TakenAs>,
}

/// Origins by the path of the value (`fitting.right.cd_mm`). A value without one was taken for
/// this job, by `fitting.taken_by` on `fitting.taken_on`.
pub type Origins = BTreeMap<String, Origin>;

/// Returns the origins that there were and are no longer.
pub fn ended(before: &Origins, now: &Origins) -> Origins {
    before
        .iter()
        .filter(|(path, _)| !now.contains_key(*path))
        .map(|(path, origin)| (path.clone(), origin.clone()))
        .collect()
}
