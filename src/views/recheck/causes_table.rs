//! Complaint, likely cause, what settles it, what to do: the rows of a dispensing desk.
//!
//! The links between complaint and cause are those that the sources name; "textbook, from memory"
//! and "common practice" where no print was seen.

use super::cause_row::{CauseRow, Direction as D, Sign};
use super::parameter::Parameter as P;
use crate::job::{Cause, Complaint as C};

const MEISTER: &str = "Meister, notes on dispensing progressive lenses, 2008";
const MULTI: &str = "UK multi-practice re-check study, Ophthalmic and Physiological Optics 2022";
const FREEMAN: &str = "Freeman and Evans 2010";
const ANISO: &str = "McCarthy, anisometropia; Duane's, chapter 47";
const TEXTBOOK: &str = "textbook, from memory";
const PRACTICE: &str = "common practice";
const BROOKS: &str = "Brooks and Borish, System for Ophthalmic Dispensing";

#[allow(
    clippy::too_many_arguments,
    reason = "one row of the table below, in the order of its heading"
)]
const fn row(
    id: &'static str,
    complaints: &'static [C],
    signs: &'static [Sign],
    cause: &'static str,
    check: &'static str,
    remedy: &'static str,
    counts_as: Cause,
    source: &'static str,
) -> CauseRow {
    CauseRow {
        id,
        complaints,
        signs,
        cause,
        check,
        remedy,
        counts_as,
        source,
    }
}

/// Every row.
#[rustfmt::skip]
pub(crate) static CAUSES: &[CauseRow] = &[
    row("health", &[C::Warning], &[],
        "It may be a disease of the eye or of the body", "the optometrist",
        "the optometrist today; nothing is adjusted first", Cause::EyeHealth, FREEMAN),
    row("cross-high", &[C::ChinUpOrDown, C::DistanceBlurred], &[Sign::Since(P::Height, D::More), Sign::Made(P::MadeHeight)],
        "The cross or segment sits too high: distance is clear with the chin down", "mark it on the face",
        "lower the frame (spread the pads, less tilt); make again if over 2 mm", Cause::Height, MEISTER),
    row("cross-low", &[C::ChinUpOrDown, C::NearBlurred, C::Slips], &[Sign::Since(P::Height, D::Less), Sign::Made(P::MadeHeight)],
        "The cross or segment sits too low, or the frame slipped: the chin goes up to read", "mark it on the face",
        "raise the frame (pads in, sides firmer); make again if it cannot be raised", Cause::Height, MEISTER),
    row("near-inset", &[C::NarrowZone, C::NearBlurred], &[Sign::Since(P::NearInset, D::Any), Sign::Since(P::Centration, D::Any), Sign::Made(P::MadeCentration)],
        "The near zones do not meet where the eyes look: inset or centration", "mark both near points while reading",
        "correct centration or inset; a design with a wider zone", Cause::Centration, MEISTER),
    row("eyes-exchanged", &[C::OneSide], &[Sign::Since(P::Centration, D::Any), Sign::Made(P::MadeCentration)],
        "The two centration distances were exchanged, or their difference was missed", "each eye's distance again",
        "measure again and make again", Cause::OrderEntry, "Pacific University thesis 1992 on call-backs of laboratories"),
    row("new-zone", &[C::Swim], &[Sign::FirstProgressive, Sign::Before(P::Addition, D::More), Sign::Before(P::Corridor, D::Any), Sign::Before(P::FrontCurve, D::Any)],
        "A first progressive, a higher addition or another curve: the sides swim", "what changed from the old pair",
        "wait to a named day where nothing is wrong; a softer design; segments as before", Cause::Adaptation, MEISTER),
    row("cylinder-changed", &[C::Slope, C::Reflections], &[Sign::Before(P::Cylinder, D::Any), Sign::Before(P::Axis, D::Any)],
        "Cylinder or axis changed, most of all an oblique one: floors lean", "old and new side by side",
        "ask the prescriber about a part of the change", Cause::Prescription, MULTI),
    row("power-or-curve", &[C::Size, C::Slope], &[Sign::Before(P::Sphere, D::Any), Sign::Before(P::FrontCurve, D::Any)],
        "Power or front curve changed: sizes and the floor seem another distance away", "old and new side by side",
        "wait two weeks; match the old curve", Cause::Adaptation, MULTI),
    row("too-far", &[C::BetterMoved, C::DistanceBlurred], &[Sign::Since(P::Vertex, D::More), Sign::Before(P::Vertex, D::More)],
        "It sits farther than meant: a minus pair is too weak there (clear when pressed closer)", "vertex distance of each eye",
        "pads back; then work the powers out again for the distance that is left", Cause::Position, "vertex arithmetic, F squared over 1000 for each mm"),
    row("too-near", &[C::BetterMoved, C::NearBlurred], &[Sign::Since(P::Vertex, D::Less), Sign::Before(P::Vertex, D::Less)],
        "It sits nearer than meant, or minus is too strong or plus too weak (clear when pulled away)", "vertex distance; lenses held over",
        "set the distance; then the optometrist", Cause::Position, "vertex arithmetic, F squared over 1000 for each mm"),
    row("tilt", &[C::BetterMoved], &[Sign::Before(P::Tilt, D::Any), Sign::Before(P::FaceForm, D::Any), Sign::Since(P::Tilt, D::Any), Sign::Since(P::FaceForm, D::Any)],
        "The tilt is another than the lens was made for, or a cylinder is missing", "tilt, twice; a cylinder held over",
        "set the tilt; then the optometrist", Cause::Position, MEISTER),
    row("one-lens-off", &[C::OneSide, C::BetterMoved], &[Sign::Since(P::Centration, D::Any), Sign::Since(P::HeightDifference, D::Any), Sign::Made(P::MadeCentration), Sign::Made(P::MadeHeightDifference)],
        "One lens is off its place, across or in height", "mark that lens on the face",
        "adjust; measure again and make again", Cause::Centration, MEISTER),
    row("one-lens-power", &[C::DistanceBlurred, C::NearBlurred], &[Sign::Made(P::MadeAlong), Sign::Made(P::MadeAcross), Sign::Made(P::MadeCylinder), Sign::Made(P::MadeAxis)],
        "A lens has another power or axis than ordered", "read it again, three times, the median",
        "back to the laboratory", Cause::Laboratory, FREEMAN),
    row("keyed-wrong", &[C::DistanceBlurred, C::NearBlurred, C::Double], &[Sign::NotAsPrescribed],
        "The order is not the prescription: a sign, an axis, an addition", "the written prescription",
        "order it as prescribed, at the practice's cost", Cause::OrderEntry, "Freeman and Evans 2010: data entry 6.8 % of causes"),
    row("over-plus", &[C::DistanceBlurred], &[Sign::Before(P::Sphere, D::More)],
        "Too much plus for the distance: the old pair was better there", "-0.25 held over both",
        "ask for a re-test", Cause::Prescription, MULTI),
    row("under-plus", &[C::NearBlurred, C::Ache], &[Sign::Before(P::Sphere, D::Less)],
        "Less plus or more minus than before", "+0.25 held over both",
        "ask for a re-test", Cause::Prescription, MULTI),
    row("addition-strong", &[C::NearBlurred], &[Sign::Before(P::Addition, D::More), Sign::Since(P::Working, D::More), Sign::Made(P::MadeAddition)],
        "The addition is strong for the task: near is clear too close", "the distance of the task with a tape",
        "a weaker addition, agreed with the prescriber", Cause::Prescription, PRACTICE),
    row("addition-weak", &[C::NearBlurred, C::Ache], &[Sign::Before(P::Addition, D::Less), Sign::Since(P::Working, D::Less), Sign::Made(P::MadeAddition)],
        "The addition is weak, or the distance power lacks plus: near is clear too far away", "+0.25 held over",
        "ask for a re-test", Cause::Prescription, FREEMAN),
    row("no-intermediate", &[C::ScreenBlurred], &[Sign::NoIntermediate, Sign::Before(P::Corridor, D::Less)],
        "The pair has no zone for the screen, or a short corridor passes over it", "screen distance and height",
        "an office pair for the desk", Cause::LensChoice, "guides to occupational dispensing, Optician CPD"),
    row("vertical-prism", &[C::Double], &[Sign::Before(P::PrismVertical, D::Any), Sign::Made(P::MadePrismVertical), Sign::Made(P::MadeHeightDifference), Sign::Since(P::HeightDifference, D::Any)],
        "A vertical difference between the eyes: prism, heights, or unequal powers", "net prism, both heights",
        "level the frame; back to the laboratory; prism compensated in the segment", Cause::Height, ANISO),
    row("horizontal-prism", &[C::Double, C::Ache], &[Sign::Before(P::PrismHorizontal, D::Any), Sign::Made(P::MadePrismHorizontal), Sign::Made(P::MadeCentration), Sign::Since(P::Centration, D::Any)],
        "A horizontal prism that is new, lost or reversed, or centres that are off", "net prism; the old pair's prism",
        "back to the laboratory; restore what the wearer was used to", Cause::Centration, MULTI),
    row("near-imbalance", &[C::Ache, C::Double], &[Sign::Before(P::Balance, D::Any)],
        "Unequal powers make a vertical difference at the reading point: better with one eye shut", "work it out at the reading drop",
        "unequal segments or compensating prism; a reading pair", Cause::Prescription, ANISO),
    row("image-size", &[C::Size, C::Ache], &[Sign::Before(P::Balance, D::Any), Sign::Before(P::FrontCurve, D::Any)],
        "The images differ in size between the eyes", "estimate it on the pictures of the job",
        "match curves and thickness, sit closer; contact lenses", Cause::LensChoice, ANISO),
    row("binocular", &[C::Ache, C::Double], &[Sign::Before(P::PrismHorizontal, D::Any), Sign::Before(P::Addition, D::Any)],
        "The eyes work together with effort: addition or prism", "a binocular test",
        "ask for a re-test", Cause::Prescription, FREEMAN),
    row("segment-type", &[C::LineInTheWay], &[Sign::Before(P::Design, D::Any), Sign::Before(P::Segment, D::Any)],
        "Another kind of segment: the image jumps at its edge", "the old pair's segment",
        "the kind worn before; a progressive design", Cause::LensChoice, TEXTBOOK),
    row("segment-high", &[C::LineInTheWay, C::Fell], &[Sign::Since(P::Height, D::More), Sign::Made(P::MadeHeight)],
        "The segment top stands in the way when walking", "top against the lower lid",
        "lower the frame by 1 to 2 mm; make again", Cause::Height, TEXTBOOK),
    row("fringes", &[C::Fringes], &[Sign::LowAbbe, Sign::Before(P::Index, D::More), Sign::Since(P::Height, D::Any)],
        "Colour spread by a strong lens of low Abbe number away from its centre", "material; where the centres are",
        "a higher Abbe number; centres where the wearer looks", Cause::LensChoice, TEXTBOOK),
    row("reflections", &[C::Reflections], &[Sign::Uncoated, Sign::Before(P::FrontCurve, D::Less)],
        "Surfaces and edges reflect: no coating, a flatter curve, a bright edge", "a lamp behind the wearer",
        "a coating; a rolled or darkened edge", Cause::LensChoice, TEXTBOOK),
    row("ghost", &[C::Reflections], &[Sign::Made(P::MadeAxis), Sign::Before(P::Axis, D::Any), Sign::Uncoated],
        "A second picture: reflection inside the lens, or a cylinder off its axis", "does it move when the pair is tilted?",
        "coating or tilt; axis read again", Cause::LensChoice, TEXTBOOK),
    row("night-myopia", &[C::Light], &[Sign::Uncoated],
        "At night the eye needs another power, or the surfaces scatter the lamps", "acuity in dim light",
        "the optometrist; a clear coated pair", Cause::Prescription, "College of Optometrists guidance on tints and driving"),
    row("tint-dark", &[C::Light], &[Sign::DarkTint],
        "The tint lets too little light through at dusk", "transmittance against 75 %",
        "a clear pair for driving", Cause::LensChoice, "College of Optometrists guidance on tints and driving"),
    row("photochromic", &[C::Light, C::Expected], &[],
        "A lens that darkens in sunlight does little behind a windscreen, which holds the ultraviolet back", "which lens it is",
        "explain; a fixed tint for the car", Cause::Expectation, "College of Optometrists guidance on tints and driving"),
    row("wrap-power", &[C::OneSide, C::Swim], &[Sign::Wrapped],
        "A wrapped front without powers for it: clear straight on, poor aside", "stated powers; face form",
        "powers compensated as worn", Cause::LensChoice, "Martin's tilt formula; LabTalk on wrapped prescriptions"),
    row("wrap-prism", &[C::Double, C::Size], &[Sign::Wrapped],
        "Tilted strong surfaces make prism: it pulls in or out", "net prism as worn",
        "powers and prism compensated as worn", Cause::LensChoice, "LabTalk on wrapped prescriptions"),
    row("feels-stronger", &[C::Size, C::Expected], &[Sign::Before(P::Vertex, D::Any), Sign::Since(P::Vertex, D::Any)],
        "The same powers at another distance feel stronger or weaker", "vertex distance, old and new",
        "pads", Cause::Position, "vertex arithmetic, F squared over 1000 for each mm"),
    row("edges-bend", &[C::Swim, C::Slope], &[Sign::Before(P::FrontCurve, D::Any), Sign::Before(P::CentreThickness, D::Any)],
        "Straight lines bend at the edge: another curve, or an aspheric lens off its centre", "curve; height of the centre",
        "match the curve; centre it", Cause::LensChoice, TEXTBOOK),
    row("small-spot", &[C::NarrowZone], &[Sign::Since(P::Centration, D::Any), Sign::Since(P::Height, D::Any), Sign::Made(P::MadeCentration)],
        "An aspheric or high-index lens is off its centre: a small clear spot", "centres on the face",
        "measure again and make again", Cause::Centration, TEXTBOOK),
    row("slips", &[C::Slips], &[Sign::Since(P::LengthToBend, D::More), Sign::Since(P::HeadWidth, D::More), Sign::Since(P::Pads, D::Any)],
        "The bend sits behind the ear's top, the sides are wide, or the pads too far apart", "length to bend, head width, pads",
        "bend at the ear point, sides to the head, pads in; a lighter lens", Cause::FrameFit, BROOKS),
    row("pinches", &[C::Presses], &[Sign::Since(P::HeadWidth, D::Less)],
        "The front or the sides are too narrow at the temples", "where the marks are",
        "bow the sides out; a wider frame", Cause::FrameFit, BROOKS),
    row("one-ear", &[C::Presses], &[Sign::Since(P::LengthToBend, D::Any)],
        "One bend is short or long, or its drop presses behind the ear", "length to bend of each side",
        "set that side again", Cause::FrameFit, "Optician CPD 178, fitting and adjusting"),
    row("nose-marks", &[C::Skin, C::Presses], &[Sign::Since(P::Pads, D::Any)],
        "Pads bear on an edge, are small, or the pair is heavy", "the angles of the pads on the nose",
        "set the angles; larger pads; a lighter lens", Cause::FrameFit, BROOKS),
    row("contact-rash", &[C::Skin], &[],
        "The skin does not bear a material: nickel, a dye, silicone; or it is dirt", "where it touches; what it is made of",
        "another material; clean it; the general practitioner", Cause::FrameFit, "Situm et al. 2013; EN 16128 on nickel release"),
    row("verdigris", &[C::Skin], &[],
        "Green deposit of a worn metal", "look under the pads and at the joints",
        "clean; replace pads and worn parts", Cause::FrameFit, PRACTICE),
    row("lashes", &[C::Touches], &[Sign::Since(P::Vertex, D::Less)],
        "The lenses sit too near the lashes", "vertex distance; blink",
        "pads out; then work the powers out again", Cause::Position, BROOKS),
    row("cheeks", &[C::Touches], &[Sign::Since(P::Tilt, D::More)],
        "The lower rims are pushed when smiling: tilt, or a deep frame", "smile",
        "less tilt; a smaller frame", Cause::FrameFit, BROOKS),
    row("askew", &[C::Askew], &[Sign::Since(P::HeightDifference, D::Any), Sign::Since(P::LengthToBend, D::Any)],
        "One side is set lower, or the ears are not level", "four points on a table, then the face",
        "set the angle of one side, not its length", Cause::FrameFit, BROOKS),
    row("loose", &[C::LensLoose], &[],
        "The lens turns or moves in the rim", "turn it with the thumbs",
        "seat it again; back to the laboratory", Cause::Laboratory, "Which? round of online spectacles, 2012"),
    row("changed-since", &[C::Changed], &[Sign::Since(P::Height, D::Any), Sign::Since(P::Vertex, D::Any), Sign::Since(P::Tilt, D::Any), Sign::Since(P::LengthToBend, D::Any), Sign::Since(P::Pads, D::Any)],
        "It was bent, or its pads were changed, since it was handed over", "how it stands against the handover",
        "set it as it was", Cause::FrameFit, FREEMAN),
    row("health-changed", &[C::Changed], &[],
        "The eyes or the health changed since: sugar, medicines, an operation", "ask",
        "the optometrist", Cause::EyeHealth, FREEMAN),
    row("child-over-top", &[C::Slips], &[],
        "A child looks over the top: the bridge is too wide and the frame slides", "crest and splay on the nose",
        "a smaller bridge, straps, loop sides", Cause::FrameFit, "Optician CPD on children's frames"),
    row("fall", &[C::Fell], &[Sign::FirstProgressive, Sign::Before(P::Sphere, D::Any), Sign::Before(P::Cylinder, D::Any)],
        "The reading area hides steps, or the powers changed by much", "which pair was worn, where",
        "single vision outdoors; the optometrist", Cause::LensChoice, "Haran et al., BMJ 2010"),
    row("expectation", &[C::Expected], &[],
        "Nothing can be measured: look, price, or another idea of what it would do", "listen",
        "explain; terms of exchange; another kind of lens", Cause::Expectation, "Bist et al. 2021: communication 16 % of causes"),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_are_unique_and_every_complaint_points_somewhere() {
        let mut ids: Vec<&str> = CAUSES.iter().map(|r| r.id).collect();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), CAUSES.len());
        for c in C::ALL {
            assert!(CAUSES.iter().any(|r| r.complaints.contains(c)), "{c}");
        }
    }
}
