//! The handover: how the pair sits on the face, and what the wearer was told.

use chrono::NaiveDate;

use super::prescription::eyes;
use super::words::words;
use crate::job::fields::{FieldKind, Limits, Rules, Shown, record};
use crate::trade::eye::Eye;
use crate::trade::units::{Degree, Millimetre};

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

words! {
    /// How a pair reaches its wearer.
    HandoverMethod {
        /// In person; also where nothing is said.
        InPerson = "in person",
        /// By post.
        Posted = "posted",
        /// Somebody else takes it.
        TakenByAnother = "taken by another",
    }
}

impl HandoverMethod {
    /// Whether the wearer is there.
    pub fn is_in_person(self) -> bool {
        self == Self::InPerson
    }
}

record! {
    /// One eye's values as handed over.
    pub struct EyeHandover {
        /// Back vertex distance, mm.
        vertex_mm: Option<Millimetre> = {
            label: "vertex distance", kind: FieldKind::Length, limits: Limits::Own(2.0, 40.0),
            help: "from the back of the lens to the cornea as handed over, as 12",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: true, repair: true },
        },
        /// Length to bend as set, mm.
        length_to_bend_mm: Option<Millimetre> = {
            label: "length to bend", kind: FieldKind::Length, limits: Limits::Own(50.0, 200.0),
            help: "length to bend as set, as 95",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: true, repair: true },
        },
        /// Height on the face, mm.
        height_mm: Option<Millimetre> = {
            label: "height on the face", kind: FieldKind::Length, limits: Limits::Own(2.0, 60.0),
            help: "pupil above the lowest tangent as handed over, as 21",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: false, repair: true },
        },
        /// Height of the segment top on the face, mm.
        segment_height_mm: Option<Millimetre> = {
            label: "segment on the face", kind: FieldKind::Length, limits: Limits::Own(1.0, 50.0),
            help: "segment top above the lowest tangent as handed over, as 15",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: false, repair: true },
        },
    }
}

record! {
    /// The handover of a pair.
    pub struct Handover {
        /// Who handed it over (a name of the staff list).
        given_by: Option<String> = {
            label: "handed over by", kind: FieldKind::Staff, limits: Limits::OfKind,
            help: "who hands the pair over: a name of the staff list",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: false, repair: false },
        },
        /// When.
        given_on: Option<NaiveDate> = {
            label: "handed over on", kind: FieldKind::Date, limits: Limits::OfKind,
            help: "day of the handover: 2026-12-03, 3/12/2026, today",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: false, repair: false },
        },
        /// Who supervised, registered and on the premises (a name of the staff list).
        supervised_by: Option<String> = {
            label: "supervised by", kind: FieldKind::Staff, limits: Limits::OfKind,
            help: "who supervised the collection on the premises: a registered name of the staff list",
            shown: Shown::Listed, rules: Rules::Handover { moves_lenses: false, repair: false },
        },
        /// How the pair reaches the wearer; in person where nothing is said.
        method: Option<HandoverMethod> = {
            label: "how handed over", kind: FieldKind::Choice(HandoverMethod::WORDS), limits: Limits::OfKind,
            help: "in person, posted or taken by another",
            shown: Shown::Listed, rules: Rules::Handover { moves_lenses: false, repair: false },
        },
        /// Day to come for the fitting or to be seen again.
        review_on: Option<NaiveDate> = {
            label: "to be seen on", kind: FieldKind::Date, limits: Limits::OfKind,
            help: "day to come for the fitting or to be seen again: 2026-12-03, +14",
            shown: Shown::Listed, rules: Rules::Handover { moves_lenses: false, repair: false },
        },
        /// Two details of the wearer were checked.
        identity_checked: Option<bool> = {
            label: "identity checked", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when two details of the wearer were checked",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: false, repair: false },
        },
        /// The print on the frame is that of the frame ordered.
        frame_checked: Option<bool> = {
            label: "frame checked", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when the print on the frame is that of the frame ordered",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: false, repair: false },
        },
        /// Right eye.
        right: EyeHandover,
        /// Left eye.
        left: EyeHandover,
        /// Eyes whose heights were read before the frame was last adjusted; they are read again. Kept by the program when an answer or value that moves the lenses changes or is cleared after a height was given, or when a height that was cleared is taken back. Only a height entered for that eye takes it out, the one that counts for the design; clearing the height or the list does not.
        adjusted_after_heights: Option<Vec<Eye>> = {
            label: "heights to read again", kind: FieldKind::Advice(&["right", "left"]), limits: Limits::OfKind,
            help: "eyes whose heights were read before the frame was last adjusted: right, left; a height read again ends it",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: false, repair: false },
        },
        /// Pantoscopic angle as handed over, degrees.
        pantoscopic_deg: Option<Degree> = {
            label: "pantoscopic angle", kind: FieldKind::Angle, limits: Limits::Own(-30.0, 60.0),
            help: "pantoscopic angle as handed over, as 8",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: true, repair: true },
        },
        /// Face-form angle as handed over, degrees.
        face_form_deg: Option<Degree> = {
            label: "face-form angle", kind: FieldKind::Angle, limits: Limits::Own(-30.0, 60.0),
            help: "face-form angle as handed over, as 5",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: true, repair: true },
        },
        /// The pads bear level.
        pads_level: Option<bool> = {
            label: "pads level", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when the pads bear level, otherwise no",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: true, repair: false },
        },
        /// No grip at the temples.
        temples_free: Option<bool> = {
            label: "temples free", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when nothing grips at the temples, otherwise no",
            shown: Shown::AlsoRecorded, rules: Rules::Handover { moves_lenses: true, repair: false },
        },
        /// The sides are let back equally far.
        let_back_even: Option<bool> = {
            label: "let-back even", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when the sides are let back equally far, otherwise no",
            shown: Shown::AlsoRecorded, rules: Rules::Handover { moves_lenses: true, repair: false },
        },
        /// The bend lies at the ear point and the drop follows the head.
        drop_follows: Option<bool> = {
            label: "drop follows", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when the bend lies at the ear point and the drop follows the head, otherwise no",
            shown: Shown::AlsoRecorded, rules: Rules::Handover { moves_lenses: true, repair: false },
        },
        /// It stays in place shaken, smiling and looking down.
        stays: Option<bool> = {
            label: "stays in place", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when it stays shaken, smiling and looking down, otherwise no",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: true, repair: false },
        },
        /// The sides press evenly.
        sides_even: Option<bool> = {
            label: "sides even", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when the sides press evenly, otherwise no",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: true, repair: false },
        },
        /// No pressure marks.
        no_pressure_marks: Option<bool> = {
            label: "no pressure marks", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when there is no mark of pressure, otherwise no",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: true, repair: false },
        },
        /// Distance acuity as written.
        distance_acuity: Option<String> = {
            label: "distance acuity", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "distance acuity as it is written: 6/6, 20/20, 0.8 or logMAR 0.1",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: false, repair: false },
        },
        /// Near acuity as written.
        near_acuity: Option<String> = {
            label: "near acuity", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "near acuity as it is written, such as N5",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: false, repair: false },
        },
        /// Acuity at the intermediate distance as written.
        intermediate_acuity: Option<String> = {
            label: "intermediate acuity", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "acuity at the screen or desk as it is written, such as N6",
            shown: Shown::AlsoRecorded, rules: Rules::Handover { moves_lenses: false, repair: false },
        },
        /// Single at distance, near and looking down.
        sees_single: Option<bool> = {
            label: "sees single", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when single at distance, near and looking down, otherwise no",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: false, repair: false },
        },
        /// A number plate is read at the distance that driving asks for.
        reads_number_plate: Option<bool> = {
            label: "reads number plate", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when a number plate is read at the distance driving asks for, otherwise no",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: false, repair: false },
        },
        /// What the wearer says of the pair, in the wearer's words.
        wearer_words: Option<String> = {
            label: "wearer says", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "what the wearer says of the pair, in the wearer's words",
            shown: Shown::AlsoRecorded, rules: Rules::Handover { moves_lenses: false, repair: false },
        },
        /// The wearer is comfortable.
        comfortable: Option<bool> = {
            label: "comfortable", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when the wearer is comfortable, otherwise no",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: false, repair: false },
        },
        /// Topics of advice that were given.
        advice: Option<Vec<Advice>> = {
            label: "advice given", kind: FieldKind::Advice(Advice::WORDS), limits: Limits::OfKind,
            help: "topics, comma separated, such as adaptation, driving, care, aftercare, re-test",
            shown: Shown::Placed, rules: Rules::Handover { moves_lenses: false, repair: false },
        },
        /// Who took the pair away.
        collected_by: Option<String> = {
            label: "collected by", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "who took the pair away",
            shown: Shown::AlsoRecorded, rules: Rules::Handover { moves_lenses: false, repair: false },
        },
    }
}

eyes!(Handover, EyeHandover);

impl Handover {
    /// Whether the wearer was there.
    pub fn is_in_person(&self) -> bool {
        matches!(self.method, None | Some(HandoverMethod::InPerson))
    }
}

impl EyeHandover {
    /// Whether a height of this eye was read on the face.
    pub fn has_height(&self) -> bool {
        self.height_mm.is_some() || self.segment_height_mm.is_some()
    }
}
