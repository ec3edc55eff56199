//! Fields of the readings taken of the finished pair.

use super::field::{Field, Kind, PrismAxis};
use super::table::{table, words_of};
use crate::job::{Markings, Surface};

pub(super) const FIELDS: &[Field] = table!(
    Readings,
    [
        one(
            "taken_by",
            "read by",
            "",
            Kind::Staff,
            "who read the pair: a name of the staff list"
        ),
        one(
            "taken_on",
            "read on",
            "",
            Kind::Date,
            "day of the readings: 2026-12-03, 3/12/2026, today"
        ),
        two(
            "",
            "sphere_d",
            "sphere",
            "D",
            Kind::Reading,
            "sphere as read, with its sign, as -2.31; a whole reading may be typed: -2.31/-0.70x91"
        ),
        two(
            "",
            "cylinder_d",
            "cylinder",
            "D",
            Kind::Reading,
            "cylinder as read, with its sign, as -0.70"
        ),
        two(
            "",
            "axis_deg",
            "axis",
            "degrees",
            Kind::Axis,
            "axis as read, 1 to 180 degrees"
        ),
        two(
            "",
            "addition_d",
            "addition",
            "D",
            Kind::Addition,
            "addition as read, as 2.04"
        ),
        two(
            "",
            "base_in_delta",
            "prism in/out",
            "prism dioptres",
            Kind::Prism(PrismAxis::In),
            "horizontal prism at the ordered point with its base, as 0.25 out"
        ),
        two(
            "",
            "base_up_delta",
            "prism up/down",
            "prism dioptres",
            Kind::Prism(PrismAxis::Up),
            "vertical prism at the ordered point with its base, as 0.25 up"
        ),
        two(
            "",
            "cd_mm",
            "centre found at",
            "mm",
            Kind::Length,
            "optical centre or fitting cross from the middle of the bridge, as 31.5"
        ),
        two(
            "",
            "height_mm",
            "height found",
            "mm",
            Kind::Length,
            "optical centre or fitting cross above the lowest tangent, as 21"
        ),
        two(
            "",
            "segment_height_mm",
            "segment height",
            "mm",
            Kind::Length,
            "segment top above the lowest tangent, as 15"
        ),
        two(
            "",
            "centre_mm",
            "centre thickness",
            "mm",
            Kind::Length,
            "centre thickness as measured, as 2.1"
        ),
        two(
            "",
            "base_d",
            "front curve",
            "D",
            Kind::Curve,
            "front curve as measured, dioptres at index 1.530, as 6"
        ),
        one(
            "segment_tilt_deg",
            "tilt of segments",
            "degrees",
            Kind::Angle,
            "tilt of the segment tops or of the line of the markings, as 1"
        ),
        one(
            "surface",
            "surfaces",
            "",
            Kind::Choice(words_of!(Surface)),
            "clean or marked"
        ),
        one(
            "markings",
            "markings",
            "",
            Kind::Choice(words_of!(Markings)),
            "permanent markings: correct, wrong or absent"
        ),
        one(
            "material_confirmed",
            "material as ordered",
            "",
            Kind::Flag,
            "yes when the material is the one ordered, otherwise no"
        ),
        one(
            "coatings_confirmed",
            "coatings as ordered",
            "",
            Kind::Flag,
            "yes when the coatings are those ordered, otherwise no"
        ),
        one(
            "tint_confirmed",
            "tint as ordered",
            "",
            Kind::Flag,
            "yes when the tint is the one ordered, otherwise no"
        ),
        one(
            "frame_trued",
            "frame trued",
            "",
            Kind::Flag,
            "yes when the frame is trued, otherwise no"
        ),
    ]
);
