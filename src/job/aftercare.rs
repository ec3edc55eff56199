//! What happens to a pair around and after its handover: repairs, and what the wearer was told.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::words::words;
use super::{EyeHandover, Moment, Pads};
use crate::units::{Degree, Millimetre};

words! {
    /// What was done to a pair.
    RepairKind {
        /// Pads changed.
        Pads = "pads changed",
        /// A side set again.
        Sides = "sides set",
        /// The front or bridge set again.
        Front = "front set",
        /// A screw replaced or tightened.
        Screw = "screw",
        /// A loose lens seated.
        LensLoose = "lens loose",
        /// A part of the frame replaced.
        Part = "part replaced",
        /// Cleaned, checked, nothing changed.
        Checked = "checked",
        /// Anything else.
        Other = "other",
    }
}

words! {
    /// How the wearer was reached.
    ContactBy {
        /// Spoken to on the telephone.
        Telephone = "telephone",
        /// A message left on the telephone.
        Voicemail = "voicemail",
        /// A short message.
        Message = "message",
        /// An e-mail.
        Email = "e-mail",
        /// A letter.
        Letter = "letter",
        /// In person.
        InPerson = "in person",
    }
}

/// A repair or adjustment. Values it gives replace those of the handover from that day on.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Repair {
    /// When.
    pub on: Option<NaiveDate>,
    /// Who (a name of the staff list).
    pub by: Option<String>,
    /// What was done.
    pub kind: Option<RepairKind>,
    /// In words.
    pub note: Option<String>,
    /// Right side and eye as they stand now.
    pub right: EyeHandover,
    /// Left side and eye as they stand now.
    pub left: EyeHandover,
    /// Pantoscopic angle now, degrees.
    pub pantoscopic_deg: Option<Degree>,
    /// Face-form angle now, degrees.
    pub face_form_deg: Option<Degree>,
    /// Width between the sides at the ear points now, mm.
    pub head_width_mm: Option<Millimetre>,
    /// Pads now.
    pub pads: Option<Pads>,
}

/// Something the wearer was told, or tried to be.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Contact {
    /// When.
    pub at: Option<Moment>,
    /// Who (a name of the staff list).
    pub by: Option<String>,
    /// How.
    pub how: Option<ContactBy>,
    /// What was said or left.
    pub told: Option<String>,
    /// Whether the wearer was reached.
    pub reached: Option<bool>,
}

/// What happens to a pair around and after its handover.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Aftercare {
    /// Repairs and adjustments, the earliest first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub repairs: Vec<Repair>,
    /// Who was told what, the earliest first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub contacts: Vec<Contact>,
}
