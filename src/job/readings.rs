//! The readings taken of the finished pair at verification.

use chrono::NaiveDate;

use super::prescription::{eyes, written_rx};
use super::words::words;
use crate::job::fields::{FieldKind, Limits, PrismAxis, Rules, Shown, record};
use crate::trade::eye::Eye;
use crate::trade::optics::Rx;
use crate::trade::units::{Degree, Dioptre, Millimetre, PrismDioptre};

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

record! {
    /// One lens as it was read.
    pub struct EyeReading {
        /// Sphere, dioptres.
        sphere_d: Option<Dioptre> = {
            label: "sphere", kind: FieldKind::Reading, limits: Limits::OfKind,
            help: "sphere as read, with its sign, as -2.31; a whole reading may be typed: -2.31/-0.70x91",
            shown: Shown::Placed, rules: Rules::Reading { repeated: true },
        },
        /// Cylinder, either sign, dioptres.
        cylinder_d: Option<Dioptre> = {
            label: "cylinder", kind: FieldKind::Reading, limits: Limits::Own(-20.0, 20.0),
            help: "cylinder as read, with its sign, as -0.70",
            shown: Shown::Placed, rules: Rules::Reading { repeated: true },
        },
        /// Axis, degrees.
        axis_deg: Option<Degree> = {
            label: "axis", kind: FieldKind::Axis, limits: Limits::OfKind,
            help: "axis as read, 1 to 180 degrees",
            shown: Shown::Placed, rules: Rules::Reading { repeated: true },
        },
        /// Addition, dioptres.
        addition_d: Option<Dioptre> = {
            label: "addition", kind: FieldKind::Addition, limits: Limits::OfKind,
            help: "addition as read, as 2.04",
            shown: Shown::Placed, rules: Rules::Reading { repeated: true },
        },
        /// Prism at the ordered point, base in; base out is negative.
        base_in_delta: Option<PrismDioptre> = {
            label: "prism in/out", kind: FieldKind::Prism(PrismAxis::In), limits: Limits::OfKind,
            help: "horizontal prism at the ordered point with its base, as 0.25 out",
            shown: Shown::Placed, rules: Rules::Reading { repeated: true },
        },
        /// Prism at the ordered point, base up; base down is negative.
        base_up_delta: Option<PrismDioptre> = {
            label: "prism up/down", kind: FieldKind::Prism(PrismAxis::Up), limits: Limits::OfKind,
            help: "vertical prism at the ordered point with its base, as 0.25 up",
            shown: Shown::Placed, rules: Rules::Reading { repeated: true },
        },
        /// Where the optical centre or fitting cross was found, from the middle of the bridge, mm.
        cd_mm: Option<Millimetre> = {
            label: "centre found at", kind: FieldKind::Length, limits: Limits::Own(15.0, 45.0),
            help: "optical centre or fitting cross from the middle of the bridge, as 31.5",
            shown: Shown::Placed, rules: Rules::Reading { repeated: false },
        },
        /// The same above the lowest tangent, mm.
        height_mm: Option<Millimetre> = {
            label: "height found", kind: FieldKind::Length, limits: Limits::Own(2.0, 60.0),
            help: "optical centre or fitting cross above the lowest tangent, as 21",
            shown: Shown::Placed, rules: Rules::Reading { repeated: false },
        },
        /// Height of the segment top, mm.
        segment_height_mm: Option<Millimetre> = {
            label: "segment height", kind: FieldKind::Length, limits: Limits::Own(1.0, 50.0),
            help: "segment top above the lowest tangent, as 15",
            shown: Shown::Placed, rules: Rules::Reading { repeated: false },
        },
        /// Centre thickness, mm.
        centre_mm: Option<Millimetre> = {
            label: "centre thickness", kind: FieldKind::Length, limits: Limits::Own(0.3, 40.0),
            help: "centre thickness as measured, as 2.1",
            shown: Shown::Placed, rules: Rules::Reading { repeated: false },
        },
        /// Front curve, dioptres at index 1.530.
        base_d: Option<Dioptre> = {
            label: "front curve", kind: FieldKind::Curve, limits: Limits::OfKind,
            help: "front curve as measured, dioptres at index 1.530, as 6",
            shown: Shown::Placed, rules: Rules::Reading { repeated: false },
        },
        /// Engraving of the lens as read.
        engraving: Option<String> = {
            label: "engraving", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "engraving of the lens as it is read",
            shown: Shown::Listed, rules: Rules::Reading { repeated: false },
        },
        /// Identifier of the lens, such as the number of a bar code.
        identifier: Option<String> = {
            label: "lens identifier", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "identifier of the lens, such as the number under its bar code",
            shown: Shown::Listed, rules: Rules::Reading { repeated: false },
        },
        /// Lot of the lens.
        lot: Option<String> = {
            label: "lens lot", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "lot of the lens as it is printed on its bag",
            shown: Shown::Listed, rules: Rules::Reading { repeated: false },
        },
    }
}

impl EyeReading {
    /// Returns the power that was read, when there is a sphere.
    pub fn rx(&self) -> Option<Rx> {
        written_rx(self.sphere_d, self.cylinder_d, self.axis_deg)
    }
}

record! {
    /// Further readings of each lens, taken where one alone could not decide.
    pub struct Repeats {
        /// Of the right lens, the earliest first.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        right: Vec<EyeReading>,
        /// Of the left lens, the earliest first.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        left: Vec<EyeReading>,
    }
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

record! {
    /// Prism control as it was read across its line, of the lens that has it.
    pub struct PrismControlRead {
        /// Right lens, prism dioptres.
        right: Option<PrismDioptre> = {
            label: "prism control read", kind: FieldKind::PrismSize, limits: Limits::Own(0.0, 15.0),
            help: "prism control of this lens as read across its line, without a base, as 2",
            shown: Shown::Listed, rules: Rules::Reading { repeated: false },
        },
        /// Left lens, prism dioptres.
        left: Option<PrismDioptre> = {
            label: "prism control read", kind: FieldKind::PrismSize, limits: Limits::Own(0.0, 15.0),
            help: "prism control of this lens as read across its line, without a base, as 2",
            shown: Shown::Listed, rules: Rules::Reading { repeated: false },
        },
    }
}

record! {
    /// The readings of a finished pair.
    pub struct Readings {
        /// Who read it.
        taken_by: Option<String> = {
            label: "read by", kind: FieldKind::Staff, limits: Limits::OfKind,
            help: "who read the pair: a name of the staff list",
            shown: Shown::Placed, rules: Rules::Reading { repeated: false },
        },
        /// When.
        taken_on: Option<NaiveDate> = {
            label: "read on", kind: FieldKind::Date, limits: Limits::OfKind,
            help: "day of the readings: 2026-12-03, 3/12/2026, today",
            shown: Shown::Placed, rules: Rules::Reading { repeated: false },
        },
        /// Right lens.
        right: EyeReading,
        /// Left lens.
        left: EyeReading,
        /// Further readings of a lens, taken where one could not decide. Each line of the comparison is that of the middle reading of all; of an even number, the worse of the two in the middle. What a further reading leaves out is as read first.
        repeats: Repeats,
        /// What it was read with.
        instrument: Option<String> = {
            label: "read with", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "the focimeter, in words or by its number",
            shown: Shown::Listed, rules: Rules::Reading { repeated: false },
        },
        /// Impact mark as read on the lenses.
        impact_mark: Option<String> = {
            label: "impact mark read", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "impact mark as it is on the lenses, such as F",
            shown: Shown::Listed, rules: Rules::Reading { repeated: false },
        },
        /// The lenses are tight, with no gap, sharp edge or strain.
        mounting_sound: Option<bool> = {
            label: "mounting sound", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when the lenses are tight, with no gap, no sharp edge and no strain, otherwise no",
            shown: Shown::Listed, rules: Rules::Reading { repeated: false },
        },
        /// Prism control as read across its line.
        prism_control_delta: Option<PrismControlRead>,
        /// Tilt of the segment tops or the line of the markings, degrees.
        segment_tilt_deg: Option<Degree> = {
            label: "tilt of segments", kind: FieldKind::Angle, limits: Limits::OfKind,
            help: "tilt of the segment tops or of the line of the markings, as 1",
            shown: Shown::Placed, rules: Rules::Reading { repeated: false },
        },
        /// State of the surfaces.
        surface: Option<Surface> = {
            label: "surfaces", kind: FieldKind::Choice(Surface::WORDS), limits: Limits::OfKind,
            help: "clean or marked",
            shown: Shown::Placed, rules: Rules::Reading { repeated: false },
        },
        /// Permanent markings.
        markings: Option<Markings> = {
            label: "markings", kind: FieldKind::Choice(Markings::WORDS), limits: Limits::OfKind,
            help: "permanent markings: correct, wrong or absent",
            shown: Shown::Placed, rules: Rules::Reading { repeated: false },
        },
        /// The material is the one ordered.
        material_confirmed: Option<bool> = {
            label: "material as ordered", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when the material is the one ordered, otherwise no",
            shown: Shown::Placed, rules: Rules::Reading { repeated: false },
        },
        /// The coatings are those ordered.
        coatings_confirmed: Option<bool> = {
            label: "coatings as ordered", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when the coatings are those ordered, otherwise no",
            shown: Shown::Placed, rules: Rules::Reading { repeated: false },
        },
        /// The tint is the one ordered.
        tint_confirmed: Option<bool> = {
            label: "tint as ordered", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when the tint is the one ordered, otherwise no",
            shown: Shown::Placed, rules: Rules::Reading { repeated: false },
        },
        /// The frame is trued.
        frame_trued: Option<bool> = {
            label: "frame trued", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when the frame is trued, otherwise no",
            shown: Shown::Placed, rules: Rules::Reading { repeated: false },
        },
    }
}

eyes!(Readings, EyeReading);
