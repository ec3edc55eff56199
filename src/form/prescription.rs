//! Fields of the prescription, and of the pair worn until now.

use super::field::{Field, Kind, PrismAxis};
use super::table::table;

const SPHERE: &str =
    "sphere with its sign, as -2.25 or plano; a whole prescription may be typed: -2.25/-0.75x90";
const CYLINDER: &str = "cylinder with its sign, as -0.75; either form";
const AXIS: &str = "axis of the cylinder in whole degrees, 1 to 180";
const ADDITION: &str = "reading addition, as 2.00";
const IN: &str = "horizontal prism with its base, as 2 in or 2 out";
const UP: &str = "vertical prism with its base, as 1.5 up or 1.5 down";
const BALANCE: &str = "yes when the lens only balances the other in weight and look";
const ACUITY: &str = "acuity with this lens as it is written: 6/6, 20/20, 0.8 or logMAR 0.1";

pub(super) const FIELDS: &[Field] = table!(
    Prescription,
    [
        one(
            "tested_on",
            "tested",
            "",
            Kind::Date,
            "day of the sight test: 2026-12-03, 3/12/2026, today"
        ),
        one(
            "expires_on",
            "valid until",
            "",
            Kind::Date,
            "last day of validity, where the prescriber gave one"
        ),
        one("prescriber", "prescriber", "", Kind::Text, "who prescribed"),
        one(
            "prescriber_registration",
            "registration",
            "",
            Kind::Text,
            "the prescriber's registration number"
        ),
        one(
            "tested_vertex_mm",
            "tested at vertex",
            "mm",
            Kind::Length,
            "back vertex distance at which the powers were tested, as 12"
        ),
        one(
            "working_mm",
            "working distance",
            "mm",
            Kind::Length,
            "from the near task to the spectacle plane, as 400"
        ),
        two("", "sphere_d", "sphere", "D", Kind::Power, SPHERE),
        two("", "cylinder_d", "cylinder", "D", Kind::Power, CYLINDER),
        two("", "axis_deg", "axis", "degrees", Kind::Axis, AXIS),
        two("", "addition_d", "addition", "D", Kind::Addition, ADDITION),
        two(
            "",
            "base_in_delta",
            "prism in/out",
            "prism dioptres",
            Kind::Prism(PrismAxis::In),
            IN
        ),
        two(
            "",
            "base_up_delta",
            "prism up/down",
            "prism dioptres",
            Kind::Prism(PrismAxis::Up),
            UP
        ),
        two("", "balance", "balance lens", "", Kind::Flag, BALANCE),
        two("", "acuity", "acuity", "", Kind::Text, ACUITY),
        one(
            "notes",
            "notes",
            "",
            Kind::Notes,
            "anything else the prescriber wrote"
        ),
        two(
            "previous.",
            "sphere_d",
            "previous sphere",
            "D",
            Kind::Power,
            SPHERE
        ),
        two(
            "previous.",
            "cylinder_d",
            "previous cylinder",
            "D",
            Kind::Power,
            CYLINDER
        ),
        two(
            "previous.",
            "axis_deg",
            "previous axis",
            "degrees",
            Kind::Axis,
            AXIS
        ),
        two(
            "previous.",
            "addition_d",
            "previous addition",
            "D",
            Kind::Addition,
            ADDITION
        ),
        two(
            "previous.",
            "base_in_delta",
            "previous prism in/out",
            "prism dioptres",
            Kind::Prism(PrismAxis::In),
            IN
        ),
        two(
            "previous.",
            "base_up_delta",
            "previous prism up/down",
            "prism dioptres",
            Kind::Prism(PrismAxis::Up),
            UP
        ),
        two(
            "previous.",
            "balance",
            "previous balance lens",
            "",
            Kind::Flag,
            BALANCE
        ),
        two(
            "previous.",
            "acuity",
            "previous acuity",
            "",
            Kind::Text,
            ACUITY
        ),
        pair(
            "previous.right_cd_mm",
            "previous.left_cd_mm",
            "previous centration",
            "mm",
            Kind::Length,
            "centration distance of the previous pair from the middle of the bridge, as 31.5"
        ),
        one(
            "previous.vertex_mm",
            "previous vertex",
            "mm",
            Kind::Length,
            "vertex distance the previous pair is worn at, as 12"
        ),
        one(
            "previous.base_d",
            "previous base",
            "D",
            Kind::Curve,
            "front curve of the previous pair, dioptres at index 1.530, as 6"
        ),
        one(
            "previous.index",
            "previous index",
            "",
            Kind::Index,
            "refractive index of the previous lenses, as 1.6"
        ),
        one(
            "previous.design",
            "previous design",
            "",
            Kind::Text,
            "design of the previous lenses"
        ),
    ]
);
