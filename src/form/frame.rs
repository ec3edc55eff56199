//! Fields of the frame.

use super::field::{Field, Kind};
use super::table::{table, words_of};
use crate::job::{Condition, FrameMaterial, NickelRelease, PadMaterial, PadMount, Rim, SideShape};

pub(super) const FIELDS: &[Field] = table!(
    Frame,
    [
        one("name", "frame", "", Kind::Text, "model name"),
        one(
            "colour",
            "colour",
            "",
            Kind::Text,
            "colour as it is written on the frame"
        ),
        one(
            "owned_by_wearer",
            "wearer's own",
            "",
            Kind::Flag,
            "yes when the wearer brought the frame, otherwise no"
        ),
        one(
            "a_mm",
            "lens width a",
            "mm",
            Kind::Length,
            "boxed lens width, as 52"
        ),
        one(
            "b_mm",
            "lens height b",
            "mm",
            Kind::Length,
            "boxed lens height, as 38"
        ),
        one(
            "ed_mm",
            "effective diameter",
            "mm",
            Kind::Length,
            "twice the longest radius from the boxed centre, as 54.5"
        ),
        one(
            "dbl_mm",
            "between lenses",
            "mm",
            Kind::Length,
            "distance between lenses (DBL), as 18"
        ),
        one(
            "side_mm",
            "side",
            "mm",
            Kind::Length,
            "overall length of side, as 140"
        ),
        one(
            "length_to_bend_mm",
            "made length to bend",
            "mm",
            Kind::Length,
            "length to bend the side is made with, as 95"
        ),
        one(
            "front_width_mm",
            "front width",
            "mm",
            Kind::Length,
            "width of the front, as 138"
        ),
        one(
            "front_material",
            "front material",
            "",
            Kind::Choice(words_of!(FrameMaterial)),
            "what the front is made of"
        ),
        one(
            "side_material",
            "side material",
            "",
            Kind::Choice(words_of!(FrameMaterial)),
            "what the sides are made of"
        ),
        one(
            "contains_nickel",
            "contains nickel",
            "",
            Kind::Flag,
            "yes or no; leave empty when it is not known"
        ),
        one(
            "nickel_release",
            "nickel release",
            "",
            Kind::Choice(words_of!(NickelRelease)),
            "tested, worn through or unknown"
        ),
        one(
            "rim",
            "rim",
            "",
            Kind::Choice(words_of!(Rim)),
            "full, half or rimless"
        ),
        one(
            "side_shape",
            "side shape",
            "",
            Kind::Choice(words_of!(SideShape)),
            "straight or curved"
        ),
        one(
            "base_d",
            "front curve",
            "D",
            Kind::Curve,
            "curve of the front, dioptres at index 1.530, as 4"
        ),
        one(
            "condition",
            "condition",
            "",
            Kind::Choice(words_of!(Condition)),
            "new, sound, worn or cracked"
        ),
        one(
            "impact_rated",
            "impact rated",
            "",
            Kind::Flag,
            "yes when the frame is certified against impact"
        ),
        one(
            "pads.mount",
            "pads held by",
            "",
            Kind::Choice(words_of!(PadMount)),
            "screw, push, fixed or none"
        ),
        one(
            "pads.size_mm",
            "pad length",
            "mm",
            Kind::Length,
            "length of a pad, as 13"
        ),
        one(
            "pads.material",
            "pad material",
            "",
            Kind::Choice(words_of!(PadMaterial)),
            "silicone, hard plastic, titanium or other"
        ),
    ]
);
