//! Fields of the fitting measurements and of their second reading.

use super::field::{Field, Kind};
use super::table::{table, words_of};
use crate::job::{Centration, CoverTest, TakenWith};

const PD: &str = "distance between the pupils, both eyes together, as 63.5";
const NEAR_PD: &str = "the same at the near task, as 60";
const CD: &str = "from the middle of the bridge to the pupil, as 31.5";
const NEAR_CD: &str = "from the middle of the bridge to the pupil at the near task, as 29.5";
const HEIGHT: &str = "pupil or fitting cross above the lowest tangent of the lens shape, as 21";
const SEGMENT: &str = "segment top above the lowest tangent of the lens shape, as 15";
const VERTEX: &str = "from the back of the lens to the cornea, as 12";
const BEND: &str = "along the side from the joint to the bend over the ear, as 95";
const TILT: &str =
    "pantoscopic angle as worn, bottom of the rim nearer the cheek is positive, as 8";
const WRAP: &str = "face-form angle as worn, as 5";
const HEAD: &str = "head width at the ear points, as 142";

pub(super) const FIELDS: &[Field] = table!(
    Fitting,
    [
        one(
            "taken_by",
            "measured by",
            "",
            Kind::Staff,
            "who measured: a name of the staff list"
        ),
        one(
            "taken_on",
            "measured on",
            "",
            Kind::Date,
            "day of the measurements: 2026-12-03, 3/12/2026, today"
        ),
        one(
            "taken_with",
            "measured with",
            "",
            Kind::Choice(words_of!(TakenWith)),
            "what it was measured with: ruler, pupil gauge, camera, calliper or other"
        ),
        one(
            "centration",
            "centration taken",
            "",
            Kind::Choice(words_of!(Centration)),
            "through the frame, or without spectacles"
        ),
        one(
            "cover_test",
            "cover test",
            "",
            Kind::Choice(words_of!(CoverTest)),
            "what the cover test showed"
        ),
        one("binocular_pd_mm", "PD", "mm", Kind::Length, PD),
        one("near_pd_mm", "near PD", "mm", Kind::Length, NEAR_PD),
        two("", "cd_mm", "centration distance", "mm", Kind::Length, CD),
        two(
            "",
            "near_cd_mm",
            "near centration",
            "mm",
            Kind::Length,
            NEAR_CD
        ),
        two(
            "",
            "height_mm",
            "fitting height",
            "mm",
            Kind::Length,
            HEIGHT
        ),
        two(
            "",
            "segment_height_mm",
            "segment height",
            "mm",
            Kind::Length,
            SEGMENT
        ),
        two(
            "",
            "vertex_mm",
            "vertex distance",
            "mm",
            Kind::Length,
            VERTEX
        ),
        two(
            "",
            "length_to_bend_mm",
            "length to bend",
            "mm",
            Kind::Length,
            BEND
        ),
        one(
            "pantoscopic_deg",
            "pantoscopic angle",
            "degrees",
            Kind::Angle,
            TILT
        ),
        one(
            "face_form_deg",
            "face-form angle",
            "degrees",
            Kind::Angle,
            WRAP
        ),
        one("head_width_mm", "head width", "mm", Kind::Length, HEAD),
        one(
            "second_reading.binocular_pd_mm",
            "PD again",
            "mm",
            Kind::Length,
            PD
        ),
        one(
            "second_reading.near_pd_mm",
            "near PD again",
            "mm",
            Kind::Length,
            NEAR_PD
        ),
        two(
            "second_reading.",
            "cd_mm",
            "centration again",
            "mm",
            Kind::Length,
            CD
        ),
        two(
            "second_reading.",
            "near_cd_mm",
            "near centration again",
            "mm",
            Kind::Length,
            NEAR_CD
        ),
        two(
            "second_reading.",
            "height_mm",
            "fitting height again",
            "mm",
            Kind::Length,
            HEIGHT
        ),
        two(
            "second_reading.",
            "segment_height_mm",
            "segment height again",
            "mm",
            Kind::Length,
            SEGMENT
        ),
        two(
            "second_reading.",
            "vertex_mm",
            "vertex again",
            "mm",
            Kind::Length,
            VERTEX
        ),
        two(
            "second_reading.",
            "length_to_bend_mm",
            "length to bend again",
            "mm",
            Kind::Length,
            BEND
        ),
        one(
            "second_reading.pantoscopic_deg",
            "pantoscopic again",
            "degrees",
            Kind::Angle,
            TILT
        ),
        one(
            "second_reading.face_form_deg",
            "face form again",
            "degrees",
            Kind::Angle,
            WRAP
        ),
        one(
            "second_reading.head_width_mm",
            "head width again",
            "mm",
            Kind::Length,
            HEAD
        ),
    ]
);
