//! What happens to a pair around and after its handover: repairs, and what the wearer was told.

use chrono::NaiveDate;

use super::prescription::eyes;
use super::words::words;
use super::{EyeHandover, Moment, Pads};
use crate::job::fields::record;
use crate::trade::eye::Eye;
use crate::trade::units::{Degree, Millimetre};

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

record! {
    /// A repair or adjustment. Values it gives replace those of the handover from that day on.
    pub struct Repair {
        /// When.
        on: Option<NaiveDate>,
        /// Who (a name of the staff list).
        by: Option<String> = staff,
        /// Who supervised, registered and on the premises (a name of the staff list).
        supervised_by: Option<String> = staff,
        /// Why it was kept although a check held it.
        reason: Option<String>,
        /// What was done.
        kind: Option<RepairKind>,
        /// In words.
        note: Option<String>,
        /// Side and eye as they stand now.
        right: EyeHandover,
        /// Side and eye as they stand now.
        left: EyeHandover,
        /// Pantoscopic angle now, degrees.
        pantoscopic_deg: Option<Degree>,
        /// Face-form angle now, degrees.
        face_form_deg: Option<Degree>,
        /// Width between the sides at the ear points now, mm.
        head_width_mm: Option<Millimetre>,
        /// Pads now.
        pads: Option<Pads>,
    }
}

eyes!(Repair, EyeHandover);

record! {
    /// Something the wearer was told, or tried to be.
    pub struct Contact {
        /// When.
        at: Option<Moment>,
        /// Who (a name of the staff list).
        by: Option<String> = staff,
        /// How.
        how: Option<ContactBy>,
        /// What was said or left.
        told: Option<String>,
        /// Whether the wearer was reached.
        reached: Option<bool>,
    }
}

record! {
    /// What happens to a pair around and after its handover.
    pub struct Aftercare {
        /// Repairs and adjustments, the earliest first.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        repairs: Vec<Repair>,
        /// Who was told what, the earliest first.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        contacts: Vec<Contact>,
    }
}
