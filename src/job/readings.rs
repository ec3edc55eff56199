//! The readings taken of the finished pair at verification.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::prescription::{eyes, written_rx};
use super::words::words;
use crate::eye::Eye;
use crate::optics::Rx;
use crate::units::{Degree, Dioptre, Millimetre, PrismDioptre};

words! {
    /// The state of the lens surfaces.
    Surface {
        /// Nothing to see.
        Clean = "clean",
        /// Scratched or spotted.
        Marked = "marked",
    }
}

words! {
    /// The permanent markings of the lenses.
    Markings {
        /// As ordered.
        Correct = "correct",
        /// Of another lens.
        Wrong = "wrong",
        /// None.
        Absent = "absent",
    }
}

/// One lens as it was read.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct EyeReading {
    /// Sphere, dioptres.
    pub sphere_d: Option<Dioptre>,
    /// Cylinder, either sign, dioptres.
    pub cylinder_d: Option<Dioptre>,
    /// Axis, degrees.
    pub axis_deg: Option<Degree>,
    /// Addition, dioptres.
    pub addition_d: Option<Dioptre>,
    /// Prism at the ordered point, base in; base out is negative.
    pub base_in_delta: Option<PrismDioptre>,
    /// Prism at the ordered point, base up; base down is negative.
    pub base_up_delta: Option<PrismDioptre>,
    /// Where the optical centre or fitting cross was found, from the middle of the bridge, mm.
    pub cd_mm: Option<Millimetre>,
    /// The same above the lowest tangent, mm.
    pub height_mm: Option<Millimetre>,
    /// Height of the segment top, mm.
    pub segment_height_mm: Option<Millimetre>,
    /// Centre thickness, mm.
    pub centre_mm: Option<Millimetre>,
    /// Front curve, dioptres at index 1.530.
    pub base_d: Option<Dioptre>,
}

impl EyeReading {
    /// Returns the power that was read, when there is a sphere.
    pub fn rx(&self) -> Option<Rx> {
        written_rx(self.sphere_d, self.cylinder_d, self.axis_deg)
    }
}

/// Further readings of each lens, taken where one alone could not decide.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Repeats {
    /// Of the right lens, the earliest first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub right: Vec<EyeReading>,
    /// Of the left lens, the earliest first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub left: Vec<EyeReading>,
}

impl Repeats {
    /// Returns one lens's further readings.
    pub fn eye(&self, eye: Eye) -> &[EyeReading] {
        match eye {
            Eye::Right => &self.right,
            Eye::Left => &self.left,
        }
    }
}

/// The readings of a finished pair.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Readings {
    /// Who read it.
    pub taken_by: Option<String>,
    /// When.
    pub taken_on: Option<NaiveDate>,
    /// Right lens.
    pub right: EyeReading,
    /// Left lens.
    pub left: EyeReading,
    /// Further readings; of three the middle one counts.
    pub repeats: Repeats,
    /// Tilt of the segment tops or the line of the markings, degrees.
    pub segment_tilt_deg: Option<Degree>,
    /// State of the surfaces.
    pub surface: Option<Surface>,
    /// Permanent markings.
    pub markings: Option<Markings>,
    /// The material is the one ordered.
    pub material_confirmed: Option<bool>,
    /// The coatings are those ordered.
    pub coatings_confirmed: Option<bool>,
    /// The tint is the one ordered.
    pub tint_confirmed: Option<bool>,
    /// The frame is trued.
    pub frame_trued: Option<bool>,
}

eyes!(Readings, EyeReading);
