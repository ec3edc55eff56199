//! The fitting measurements: what was taken from the wearer's face in this frame.

use chrono::NaiveDate;

use super::origin::TakenWith;
use super::prescription::eyes;
use super::words::words;
use crate::job::fields::{
    Again, Agreement, Carry, FieldKind, Limits, Remake, Rules, Shown, record,
};
use crate::trade::eye::Eye;
use crate::trade::units::{Degree, Millimetre};

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

record! {
    /// One eye's measurements.
    pub struct EyeFitting {
        /// Centration distance from the middle of the bridge, mm.
        cd_mm: Option<Millimetre> = {
            label: "centration distance", kind: FieldKind::Length, limits: Limits::Own(15.0, 45.0),
            help: "from the middle of the bridge to the pupil, as 31.5",
            shown: Shown::Placed, rules: Rules::Fitting { carry: Carry::Kept, again: Again::Compared("centration again", Agreement::Centration), repair: false, remake: Remake::Centration },
        },
        /// The same at the near task, mm.
        near_cd_mm: Option<Millimetre> = {
            label: "near centration", kind: FieldKind::Length, limits: Limits::Own(15.0, 45.0),
            help: "from the middle of the bridge to the pupil at the near task, as 29.5",
            shown: Shown::Placed, rules: Rules::Fitting { carry: Carry::Kept, again: Again::Kept("near centration again", Agreement::Centration), repair: false, remake: Remake::Centration },
        },
        /// Height of the pupil or fitting cross above the lowest tangent of the lens shape, mm.
        height_mm: Option<Millimetre> = {
            label: "fitting height", kind: FieldKind::Length, limits: Limits::Own(2.0, 60.0),
            help: "pupil or fitting cross above the lowest tangent of the lens shape, as 21",
            shown: Shown::Placed, rules: Rules::Fitting { carry: Carry::OfTheFrame, again: Again::Compared("fitting height again", Agreement::Height), repair: false, remake: Remake::Height },
        },
        /// Height of the segment top above the lowest tangent, mm.
        segment_height_mm: Option<Millimetre> = {
            label: "segment height", kind: FieldKind::Length, limits: Limits::Own(1.0, 50.0),
            help: "segment top above the lowest tangent of the lens shape, as 15",
            shown: Shown::Placed, rules: Rules::Fitting { carry: Carry::OfTheFrame, again: Again::Compared("segment height again", Agreement::Height), repair: false, remake: Remake::Height },
        },
        /// Back vertex distance, mm.
        vertex_mm: Option<Millimetre> = {
            label: "vertex distance", kind: FieldKind::Length, limits: Limits::Own(2.0, 40.0),
            help: "from the back of the lens to the cornea, as 12",
            shown: Shown::Placed, rules: Rules::Fitting { carry: Carry::OfTheFrame, again: Again::Kept("vertex again", Agreement::Unknown), repair: false, remake: Remake::Position },
        },
        /// Length from the joint to the bend over the ear, mm.
        length_to_bend_mm: Option<Millimetre> = {
            label: "length to bend", kind: FieldKind::Length, limits: Limits::Own(50.0, 200.0),
            help: "along the side from the joint to the bend over the ear, as 95",
            shown: Shown::Placed, rules: Rules::Fitting { carry: Carry::Kept, again: Again::Kept("length to bend again", Agreement::Unknown), repair: false, remake: Remake::Sides },
        },
    }
}

record! {
    /// A second reading of the numbers of [`Fitting`].
    pub struct SecondReading {
        /// Binocular pupil distance, mm.
        binocular_pd_mm: Option<Millimetre> = {
            label: "PD again", kind: FieldKind::Length, limits: Limits::Own(35.0, 90.0),
            help: "distance between the pupils, both eyes together, as 63.5",
            shown: Shown::AlsoRecorded, rules: Rules::Fitting { carry: Carry::Kept, again: Again::Not, repair: false, remake: Remake::Not },
        },
        /// Near pupil distance, mm.
        near_pd_mm: Option<Millimetre> = {
            label: "near PD again", kind: FieldKind::Length, limits: Limits::Own(30.0, 90.0),
            help: "the same at the near task, as 60",
            shown: Shown::AlsoRecorded, rules: Rules::Fitting { carry: Carry::Kept, again: Again::Not, repair: false, remake: Remake::Not },
        },
        /// Right eye.
        right: EyeFitting,
        /// Left eye.
        left: EyeFitting,
        /// Pantoscopic angle, degrees.
        pantoscopic_deg: Option<Degree> = {
            label: "pantoscopic again", kind: FieldKind::Angle, limits: Limits::Own(-30.0, 60.0),
            help: "pantoscopic angle as worn, bottom of the rim nearer the cheek is positive, as 8",
            shown: Shown::Placed, rules: Rules::Fitting { carry: Carry::OfTheFrame, again: Again::Not, repair: false, remake: Remake::Not },
        },
        /// Face-form angle, degrees.
        face_form_deg: Option<Degree> = {
            label: "face form again", kind: FieldKind::Angle, limits: Limits::Own(-30.0, 60.0),
            help: "face-form angle as worn, as 5",
            shown: Shown::AlsoRecorded, rules: Rules::Fitting { carry: Carry::OfTheFrame, again: Again::Not, repair: false, remake: Remake::Not },
        },
        /// Head width at the ear points, mm.
        head_width_mm: Option<Millimetre> = {
            label: "head width again", kind: FieldKind::Length, limits: Limits::Own(60.0, 220.0),
            help: "head width at the ear points, as 142",
            shown: Shown::AlsoRecorded, rules: Rules::Fitting { carry: Carry::Kept, again: Again::Not, repair: false, remake: Remake::Not },
        },
    }
}

record! {
    /// The fitting measurements of a pair.
    pub struct Fitting {
        /// Who measured (a name of the staff list).
        taken_by: Option<String> = {
            label: "measured by", kind: FieldKind::Staff, limits: Limits::OfKind,
            help: "who measured: a name of the staff list",
            shown: Shown::Placed, rules: Rules::Fitting { carry: Carry::Never, again: Again::Not, repair: false, remake: Remake::Not },
        },
        /// When.
        taken_on: Option<NaiveDate> = {
            label: "measured on", kind: FieldKind::Date, limits: Limits::OfKind,
            help: "day of the measurements: 2026-12-03, 3/12/2026, today",
            shown: Shown::Placed, rules: Rules::Fitting { carry: Carry::Never, again: Again::Not, repair: false, remake: Remake::Not },
        },
        /// Who supervised, registered and on the premises (a name of the staff list).
        supervised_by: Option<String> = {
            label: "supervised by", kind: FieldKind::Staff, limits: Limits::OfKind,
            help: "who supervised the measurements on the premises: a registered name of the staff list",
            shown: Shown::Listed, rules: Rules::Fitting { carry: Carry::Never, again: Again::Not, repair: false, remake: Remake::Not },
        },
        /// Whether the prescribed prism was before the eyes while the places were taken.
        prism_in_place: Option<bool> = {
            label: "prism in place", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when the prescribed prism was before the eyes while centration and heights were taken, otherwise no",
            shown: Shown::Listed, rules: Rules::Fitting { carry: Carry::OfTheFrame, again: Again::Not, repair: false, remake: Remake::Not },
        },
        /// What it was measured with.
        taken_with: Option<TakenWith> = {
            label: "measured with", kind: FieldKind::Choice(TakenWith::WORDS), limits: Limits::OfKind,
            help: "what it was measured with: ruler, pupil gauge, camera, calliper or other",
            shown: Shown::AlsoRecorded, rules: Rules::Fitting { carry: Carry::Never, again: Again::Not, repair: false, remake: Remake::Not },
        },
        /// How the centration distances were taken.
        centration: Option<Centration> = {
            label: "centration taken", kind: FieldKind::Choice(Centration::WORDS), limits: Limits::OfKind,
            help: "through the frame, or without spectacles",
            shown: Shown::Placed, rules: Rules::Fitting { carry: Carry::HowCentred, again: Again::Not, repair: false, remake: Remake::Not },
        },
        /// What the cover test showed.
        cover_test: Option<CoverTest> = {
            label: "cover test", kind: FieldKind::Choice(CoverTest::WORDS), limits: Limits::OfKind,
            help: "what the cover test showed",
            shown: Shown::Placed, rules: Rules::Fitting { carry: Carry::Never, again: Again::Not, repair: false, remake: Remake::Not },
        },
        /// Binocular pupil distance, mm.
        binocular_pd_mm: Option<Millimetre> = {
            label: "PD", kind: FieldKind::Length, limits: Limits::Own(35.0, 90.0),
            help: "distance between the pupils, both eyes together, as 63.5",
            shown: Shown::Listed, rules: Rules::Fitting { carry: Carry::Kept, again: Again::InRowOfItsOwn(Agreement::Unknown), repair: false, remake: Remake::Not },
        },
        /// Near pupil distance, mm.
        near_pd_mm: Option<Millimetre> = {
            label: "near PD", kind: FieldKind::Length, limits: Limits::Own(30.0, 90.0),
            help: "the same at the near task, as 60",
            shown: Shown::Listed, rules: Rules::Fitting { carry: Carry::Kept, again: Again::InRowOfItsOwn(Agreement::Unknown), repair: false, remake: Remake::Not },
        },
        /// Right eye.
        right: EyeFitting,
        /// Left eye.
        left: EyeFitting,
        /// Pantoscopic angle as worn, degrees.
        pantoscopic_deg: Option<Degree> = {
            label: "pantoscopic angle", kind: FieldKind::Angle, limits: Limits::Own(-30.0, 60.0),
            help: "pantoscopic angle as worn, bottom of the rim nearer the cheek is positive, as 8",
            shown: Shown::Placed, rules: Rules::Fitting { carry: Carry::OfTheFrame, again: Again::InRowOfItsOwn(Agreement::Tilt), repair: false, remake: Remake::Position },
        },
        /// Face-form (wrap) angle as worn, degrees.
        face_form_deg: Option<Degree> = {
            label: "face-form angle", kind: FieldKind::Angle, limits: Limits::Own(-30.0, 60.0),
            help: "face-form angle as worn, as 5",
            shown: Shown::Placed, rules: Rules::Fitting { carry: Carry::OfTheFrame, again: Again::InRowOfItsOwn(Agreement::Unknown), repair: false, remake: Remake::Position },
        },
        /// Head width at the ear points, mm.
        head_width_mm: Option<Millimetre> = {
            label: "head width", kind: FieldKind::Length, limits: Limits::Own(60.0, 220.0),
            help: "head width at the ear points, as 142",
            shown: Shown::Placed, rules: Rules::Fitting { carry: Carry::Kept, again: Again::InRowOfItsOwn(Agreement::Unknown), repair: true, remake: Remake::Sides },
        },
        /// A second reading of the same.
        second_reading: Option<SecondReading>,
    }
}

eyes!(Fitting, EyeFitting);
eyes!(SecondReading, EyeFitting);

impl Fitting {
    /// Returns the second reading of one eye, when a second reading was taken.
    pub fn second(&self, eye: Eye) -> Option<&EyeFitting> {
        self.second_reading.as_ref().map(|s| s.eye(eye))
    }
}
