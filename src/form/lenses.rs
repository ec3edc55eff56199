//! Fields of the lenses, of the powers ordered and of those the laboratory states.

use super::field::{Field, Kind, PrismAxis};
use super::table::{table, words_of};
use crate::job::{Design, PowersAs, Purpose, SegmentShape};

const SPHERE: &str =
    "sphere with its sign, as -2.25 or plano; a whole power may be typed: -2.25/-0.75x90";
const CYLINDER: &str = "cylinder with its sign, as -0.75";
const AXIS: &str = "axis of the cylinder, 1 to 180 degrees";
const ADDITION: &str = "addition, as 2.00";
const IN: &str = "horizontal prism with its base, as 2 in or 2 out";
const UP: &str = "vertical prism with its base, as 1.5 up or 1.5 down";

pub(super) const FIELDS: &[Field] = table!(
    Lenses,
    [
        one(
            "purpose",
            "purpose",
            "",
            Kind::Choice(words_of!(Purpose)),
            "what the pair is for"
        ),
        one(
            "design",
            "design",
            "",
            Kind::Choice(words_of!(Design)),
            "single vision, bifocal, trifocal, progressive or occupational"
        ),
        one(
            "segment.shape",
            "segment",
            "",
            Kind::Choice(words_of!(SegmentShape)),
            "round, flat top, curved top or executive"
        ),
        one(
            "segment.width_mm",
            "segment width",
            "mm",
            Kind::Length,
            "width of the segment, as 28"
        ),
        one(
            "segment.top_to_centre_mm",
            "segment top to centre",
            "mm",
            Kind::Length,
            "from the segment top down to its optical centre, as 5"
        ),
        one(
            "corridor_mm",
            "corridor",
            "mm",
            Kind::Length,
            "corridor length of the progressive design, as 14"
        ),
        one(
            "minimum_height_mm",
            "least fitting height",
            "mm",
            Kind::Length,
            "the least fitting height the design allows, as 18"
        ),
        one(
            "material",
            "material",
            "",
            Kind::Material,
            "a material of the table, such as resin 1.60; r 1.60 is enough, or the index when only one has it"
        ),
        one(
            "coatings",
            "coatings",
            "",
            Kind::Words,
            "coatings, comma separated (hard, anti-reflection); none when there are none"
        ),
        one(
            "tint.transmittance_percent",
            "transmittance",
            "%",
            Kind::Percent,
            "luminous transmittance of the tint, 0 to 100"
        ),
        one(
            "tint.category",
            "filter category",
            "",
            Kind::Category,
            "filter category of the tint, 0 to 4"
        ),
        one(
            "tint.colour",
            "tint colour",
            "",
            Kind::Text,
            "colour of the tint"
        ),
        one(
            "base_d",
            "base curve",
            "D",
            Kind::Curve,
            "front curve, dioptres at index 1.530, as 6"
        ),
        one(
            "centre_mm",
            "centre thickness",
            "mm",
            Kind::Length,
            "centre thickness ordered, as 2"
        ),
        one(
            "thinnest_mm",
            "least thickness",
            "mm",
            Kind::Length,
            "least thickness ordered, as 1.2"
        ),
        one(
            "blank_mm",
            "uncut diameter",
            "mm",
            Kind::Length,
            "diameter of the uncut lens, as 65"
        ),
        one(
            "thinning_prism_up_delta",
            "thinning prism",
            "prism dioptres",
            Kind::Prism(PrismAxis::Up),
            "prism for thinness in both lenses with its base, as 1.5 down"
        ),
        one(
            "powers.as",
            "powers are",
            "",
            Kind::Choice(words_of!(PowersAs)),
            "prescribed copies the prescription's powers into those below, where none is recorded; else vertex compensated or as worn compensated"
        ),
        one(
            "powers.by",
            "powers by",
            "",
            Kind::Staff,
            "who worked the powers out: a name of the staff list"
        ),
        two(
            "powers.",
            "sphere_d",
            "ordered sphere",
            "D",
            Kind::Reading,
            SPHERE
        ),
        two(
            "powers.",
            "cylinder_d",
            "ordered cylinder",
            "D",
            Kind::Reading,
            CYLINDER
        ),
        two(
            "powers.",
            "axis_deg",
            "ordered axis",
            "degrees",
            Kind::Axis,
            AXIS
        ),
        two(
            "powers.",
            "addition_d",
            "ordered addition",
            "D",
            Kind::Addition,
            ADDITION
        ),
        two(
            "powers.",
            "base_in_delta",
            "ordered prism in/out",
            "prism dioptres",
            Kind::Prism(PrismAxis::In),
            IN
        ),
        two(
            "powers.",
            "base_up_delta",
            "ordered prism up/down",
            "prism dioptres",
            Kind::Prism(PrismAxis::Up),
            UP
        ),
        two(
            "laboratory_powers.",
            "sphere_d",
            "laboratory sphere",
            "D",
            Kind::Reading,
            SPHERE
        ),
        two(
            "laboratory_powers.",
            "cylinder_d",
            "laboratory cylinder",
            "D",
            Kind::Reading,
            CYLINDER
        ),
        two(
            "laboratory_powers.",
            "axis_deg",
            "laboratory axis",
            "degrees",
            Kind::Axis,
            AXIS
        ),
        two(
            "laboratory_powers.",
            "addition_d",
            "laboratory addition",
            "D",
            Kind::Addition,
            ADDITION
        ),
        two(
            "laboratory_powers.",
            "base_in_delta",
            "laboratory prism in/out",
            "prism dioptres",
            Kind::Prism(PrismAxis::In),
            IN
        ),
        two(
            "laboratory_powers.",
            "base_up_delta",
            "laboratory prism up/down",
            "prism dioptres",
            Kind::Prism(PrismAxis::Up),
            UP
        ),
    ]
);
