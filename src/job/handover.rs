//! The handover: how the pair sits on the face, and what the wearer was told.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::prescription::eyes;
use super::words::words;
use crate::eye::Eye;
use crate::units::{Degree, Millimetre};

words! {
    /// A topic of advice.
    Advice {
        /// Getting used to the pair.
        Adaptation = "adaptation",
        /// Driving in it.
        Driving = "driving",
        /// Caring for it.
        Care = "care",
        /// Coming back with it.
        Aftercare = "aftercare",
        /// What it does not protect against.
        SafetyLimits = "safety limits",
        /// Where a multifocal pair is a danger to somebody who may fall.
        Falls = "falls",
        /// Looking after a child's pair.
        Child = "child",
        /// What a strong plus lens does at its edge.
        Field = "field of view",
        /// What harms the material.
        Solvents = "solvents",
        /// When a photochromic lens is and is not dark.
        Photochromic = "photochromic",
        /// The day of the next sight test.
        Retest = "re-test",
    }
}

/// One eye's values as handed over.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct EyeHandover {
    /// Back vertex distance, mm.
    pub vertex_mm: Option<Millimetre>,
    /// Length to bend as set, mm.
    pub length_to_bend_mm: Option<Millimetre>,
    /// Height on the face, mm.
    pub height_mm: Option<Millimetre>,
    /// Height of the segment top on the face, mm.
    pub segment_height_mm: Option<Millimetre>,
}

/// The handover of a pair.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Handover {
    /// Who handed it over (a name of the staff list).
    pub given_by: Option<String>,
    /// When.
    pub given_on: Option<NaiveDate>,
    /// Two details of the wearer were checked.
    pub identity_checked: Option<bool>,
    /// The print on the frame is that of the frame ordered.
    pub frame_checked: Option<bool>,
    /// Right eye.
    pub right: EyeHandover,
    /// Left eye.
    pub left: EyeHandover,
    /// Eyes whose heights were read before the frame was last adjusted: they are read again.
    pub adjusted_after_heights: Option<Vec<Eye>>,
    /// Pantoscopic angle as handed over, degrees.
    pub pantoscopic_deg: Option<Degree>,
    /// Face-form angle as handed over, degrees.
    pub face_form_deg: Option<Degree>,
    /// The pads bear level.
    pub pads_level: Option<bool>,
    /// The sides touch the head first at the ears, no grip at the temples.
    pub temples_free: Option<bool>,
    /// The sides are let back equally far.
    pub let_back_even: Option<bool>,
    /// The bend lies at the ear point and the drop follows the head.
    pub drop_follows: Option<bool>,
    /// The pair stays in place when the head is shaken and bent; cheeks and lashes are clear.
    pub stays: Option<bool>,
    /// The sides press evenly.
    pub sides_even: Option<bool>,
    /// No pressure marks.
    pub no_pressure_marks: Option<bool>,
    /// Distance acuity as written.
    pub distance_acuity: Option<String>,
    /// Near acuity as written.
    pub near_acuity: Option<String>,
    /// Acuity at the intermediate distance as written.
    pub intermediate_acuity: Option<String>,
    /// The wearer sees single at distance, near and looking down.
    pub sees_single: Option<bool>,
    /// The wearer reads a number plate at the distance that driving asks for.
    pub reads_number_plate: Option<bool>,
    /// What the wearer says of the pair, in the wearer's words.
    pub wearer_words: Option<String>,
    /// The wearer is comfortable.
    pub comfortable: Option<bool>,
    /// Topics of advice that were given.
    pub advice: Option<Vec<Advice>>,
    /// Who took the pair away.
    pub collected_by: Option<String>,
}

eyes!(Handover, EyeHandover);

impl EyeHandover {
    /// Whether a height of this eye was read on the face.
    pub fn has_height(&self) -> bool {
        self.height_mm.is_some() || self.segment_height_mm.is_some()
    }
}
