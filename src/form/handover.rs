//! Fields of the handover.

use super::field::{Field, Kind};
use super::table::{table, words_of};
use crate::job::Advice;

pub(super) const FIELDS: &[Field] = table!(
    Handover,
    [
        one(
            "given_by",
            "handed over by",
            "",
            Kind::Staff,
            "who hands the pair over: a name of the staff list"
        ),
        one(
            "given_on",
            "handed over on",
            "",
            Kind::Date,
            "day of the handover: 2026-12-03, 3/12/2026, today"
        ),
        one(
            "identity_checked",
            "identity checked",
            "",
            Kind::Flag,
            "yes when two details of the wearer were checked"
        ),
        one(
            "frame_checked",
            "frame checked",
            "",
            Kind::Flag,
            "yes when the print on the frame is that of the frame ordered"
        ),
        two(
            "",
            "vertex_mm",
            "vertex distance",
            "mm",
            Kind::Length,
            "from the back of the lens to the cornea as handed over, as 12"
        ),
        two(
            "",
            "length_to_bend_mm",
            "length to bend",
            "mm",
            Kind::Length,
            "length to bend as set, as 95"
        ),
        two(
            "",
            "height_mm",
            "height on the face",
            "mm",
            Kind::Length,
            "pupil above the lowest tangent as handed over, as 21"
        ),
        two(
            "",
            "segment_height_mm",
            "segment on the face",
            "mm",
            Kind::Length,
            "segment top above the lowest tangent as handed over, as 15"
        ),
        one(
            "adjusted_after_heights",
            "heights to read again",
            "",
            Kind::Advice(&["right", "left"]),
            "eyes whose heights were read before the frame was last adjusted: right, left; a height read again ends it"
        ),
        one(
            "pantoscopic_deg",
            "pantoscopic angle",
            "degrees",
            Kind::Angle,
            "pantoscopic angle as handed over, as 8"
        ),
        one(
            "face_form_deg",
            "face-form angle",
            "degrees",
            Kind::Angle,
            "face-form angle as handed over, as 5"
        ),
        one(
            "pads_level",
            "pads level",
            "",
            Kind::Flag,
            "yes when the pads bear level, otherwise no"
        ),
        one(
            "temples_free",
            "temples free",
            "",
            Kind::Flag,
            "yes when nothing grips at the temples, otherwise no"
        ),
        one(
            "let_back_even",
            "let-back even",
            "",
            Kind::Flag,
            "yes when the sides are let back equally far, otherwise no"
        ),
        one(
            "drop_follows",
            "drop follows",
            "",
            Kind::Flag,
            "yes when the bend lies at the ear point and the drop follows the head, otherwise no"
        ),
        one(
            "stays",
            "stays in place",
            "",
            Kind::Flag,
            "yes when it stays shaken, smiling and looking down, otherwise no"
        ),
        one(
            "sides_even",
            "sides even",
            "",
            Kind::Flag,
            "yes when the sides press evenly, otherwise no"
        ),
        one(
            "no_pressure_marks",
            "no pressure marks",
            "",
            Kind::Flag,
            "yes when there is no mark of pressure, otherwise no"
        ),
        one(
            "distance_acuity",
            "distance acuity",
            "",
            Kind::Text,
            "distance acuity as it is written: 6/6, 20/20, 0.8 or logMAR 0.1"
        ),
        one(
            "near_acuity",
            "near acuity",
            "",
            Kind::Text,
            "near acuity as it is written, such as N5"
        ),
        one(
            "intermediate_acuity",
            "intermediate acuity",
            "",
            Kind::Text,
            "acuity at the screen or desk as it is written, such as N6"
        ),
        one(
            "sees_single",
            "sees single",
            "",
            Kind::Flag,
            "yes when single at distance, near and looking down, otherwise no"
        ),
        one(
            "reads_number_plate",
            "reads number plate",
            "",
            Kind::Flag,
            "yes when a number plate is read at the distance driving asks for, otherwise no"
        ),
        one(
            "wearer_words",
            "wearer says",
            "",
            Kind::Text,
            "what the wearer says of the pair, in the wearer's words"
        ),
        one(
            "comfortable",
            "comfortable",
            "",
            Kind::Flag,
            "yes when the wearer is comfortable, otherwise no"
        ),
        one(
            "advice",
            "advice given",
            "",
            Kind::Advice(words_of!(Advice)),
            "topics, comma separated, such as adaptation, driving, care, aftercare, re-test"
        ),
        one(
            "collected_by",
            "collected by",
            "",
            Kind::Text,
            "who took the pair away"
        ),
    ]
);
