//! The fitting measurements: what was taken from the wearer's face in this frame.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::origin::TakenWith;
use super::prescription::eyes;
use super::words::words;
use crate::eye::Eye;
use crate::units::{Degree, Millimetre};

words! {
    /// How the centration distances were taken.
    Centration {
        /// Marked or read through the fitted frame.
        ThroughTheFrame = "through the frame",
        /// A pupil distance taken without spectacles.
        WithoutSpectacles = "without spectacles",
    }
}

words! {
    /// What the cover test showed.
    CoverTest {
        /// Neither eye moves.
        NoMovement = "no movement",
        /// An eye moves, spectacles on.
        WithSpectacles = "movement with spectacles",
        /// An eye moves, spectacles off.
        WithoutSpectacles = "movement without spectacles",
        /// It was not done.
        NotDone = "not done",
    }
}

/// One eye's measurements.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct EyeFitting {
    /// Centration distance from the middle of the bridge, mm.
    pub cd_mm: Option<Millimetre>,
    /// The same at the near task, mm.
    pub near_cd_mm: Option<Millimetre>,
    /// Height of the pupil or fitting cross above the lowest tangent of the lens shape, mm.
    pub height_mm: Option<Millimetre>,
    /// Height of the segment top above the lowest tangent, mm.
    pub segment_height_mm: Option<Millimetre>,
    /// Back vertex distance, mm.
    pub vertex_mm: Option<Millimetre>,
    /// Length from the joint to the bend over the ear, mm.
    pub length_to_bend_mm: Option<Millimetre>,
}

/// A second reading of the numbers of [`Fitting`].
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct SecondReading {
    /// Binocular pupil distance, mm.
    pub binocular_pd_mm: Option<Millimetre>,
    /// Near pupil distance, mm.
    pub near_pd_mm: Option<Millimetre>,
    /// Right eye.
    pub right: EyeFitting,
    /// Left eye.
    pub left: EyeFitting,
    /// Pantoscopic angle, degrees.
    pub pantoscopic_deg: Option<Degree>,
    /// Face-form angle, degrees.
    pub face_form_deg: Option<Degree>,
    /// Head width at the ear points, mm.
    pub head_width_mm: Option<Millimetre>,
}

/// The fitting measurements of a pair.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Fitting {
    /// Who measured (a name of the staff list).
    pub taken_by: Option<String>,
    /// When.
    pub taken_on: Option<NaiveDate>,
    /// What it was measured with.
    pub taken_with: Option<TakenWith>,
    /// How the centration distances were taken.
    pub centration: Option<Centration>,
    /// What the cover test showed.
    pub cover_test: Option<CoverTest>,
    /// Binocular pupil distance, mm.
    pub binocular_pd_mm: Option<Millimetre>,
    /// Near pupil distance, mm.
    pub near_pd_mm: Option<Millimetre>,
    /// Right eye.
    pub right: EyeFitting,
    /// Left eye.
    pub left: EyeFitting,
    /// Pantoscopic angle as worn, degrees.
    pub pantoscopic_deg: Option<Degree>,
    /// Face-form (wrap) angle as worn, degrees.
    pub face_form_deg: Option<Degree>,
    /// Head width at the ear points, mm.
    pub head_width_mm: Option<Millimetre>,
    /// A second reading of the same.
    pub second_reading: Option<SecondReading>,
}

eyes!(Fitting, EyeFitting);
eyes!(SecondReading, EyeFitting);

impl Fitting {
    /// Returns the second reading of one eye, when a second reading was taken.
    pub fn second(&self, eye: Eye) -> Option<&EyeFitting> {
        self.second_reading.as_ref().map(|s| s.eye(eye))
    }
}
