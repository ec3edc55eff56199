//! Why a line was refused: every kind of refusal, its code, its step and its sentence.

use std::fmt;

/// The longest piece of the line that a message repeats.
const SHOWN: usize = 16;

macro_rules! kinds {
    ($($name:ident $step:literal $code:literal $sentence:literal;)*) => {
        /// The kinds of refusal, in the order of the steps that find them.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum ErrorKind {
            $(#[doc = concat!("`", $code, "`: ", $sentence, ".")] $name,)*
        }

        impl ErrorKind {
            /// Every kind.
            pub const ALL: &'static [Self] = &[$(Self::$name),*];

            /// Returns the code used in files and answers.
            pub const fn code(self) -> &'static str {
                match self { $(Self::$name => $code,)* }
            }

            /// Returns the step of the policy, 1 to 10, that usually finds it.
            pub(super) const fn step(self) -> u8 {
                match self { $(Self::$name => $step,)* }
            }

            /// Returns the sentence; `{}` is replaced by the piece of the line in question.
            pub const fn sentence(self) -> &'static str {
                match self { $(Self::$name => $sentence,)* }
            }
        }
    };
}

kinds! {
    Empty 1 "empty" "nothing is written: type a power such as -2.25, or plano";
    NoValue 1 "no_value" "a dash, nil, none or n/a gives no power: type plano for no power, or leave the field blank";
    UnsupportedCharacter 2 "unsupported_character" "the character {} cannot be read: type that part again with plain digits, letters and signs";
    AmbiguousDash 2 "ambiguous_dash" "a long dash before a figure may be a minus or a blank: type - for minus";
    AmbiguousSign 2 "ambiguous_sign" "the sign at {} could be read either way: type + or - against the figure, as in -2.25";
    MixedDecimalSeparators 3 "mixed_decimal_separators" "points and commas are both used as decimals: type every figure with a point, as in -2.25";
    AmbiguousComma 3 "ambiguous_comma" "a comma may be a decimal or part two figures: type points as decimals and spaces between figures";
    EyeLabelMissing 4 "eye_label_missing" "there are two prescriptions at {} but not an eye for each: type R before the right and L before the left";
    DuplicateEye 4 "duplicate_eye" "{} names an eye that already has a prescription: type R once and L once";
    NearRxNotDistance 4 "near_rx_not_distance" "a near prescription is not a distance power: type the distance power, then add and the addition";
    SphereMissing 5 "sphere_missing" "the sphere is not written: type it first, with its sign, or plano";
    DsOnCylinder 5 "ds_on_cylinder" "DS marks a sphere but stands on the cylinder: type DC, or leave the mark out";
    AtSignIsMeridianNotAxis 5 "at_sign_is_meridian_not_axis" "@ gives the power along a meridian: type sphere, cylinder and x axis, as in -2.25 -0.75 x 90";
    TooManyValues 5 "too_many_values" "{} is one value too many: type sphere, cylinder, axis once, and add, prism or BVD with their names";
    AdditionMissing 5 "addition_missing" "there is no figure after {}: type the addition, as in add +2.00";
    AdditionScopeAmbiguous 5 "addition_scope_ambiguous" "an addition may belong to one eye or both: type it in each eye, or as add +2.00 OU";
    IntermediateAdditionMissing 5 "intermediate_addition_missing" "there is no figure after {}: type the intermediate addition, as in int +1.25";
    VertexMissing 5 "vertex_missing" "there is no figure after {}: type the vertex distance in mm, as in BVD 12";
    AcuityMissing 5 "acuity_missing" "there is no fraction after {}: type the acuity as 6/9 or 20/30";
    PdNotPartOfRxLine 5 "pd_not_part_of_rx_line" "a pupil distance is not part of the prescription: type it in its own field";
    BalanceLensNotAPower 5 "balance_lens_not_a_power" "a balance lens is not a power: type the power to be made, and record the balance in the lens order";
    MalformedNumber 6 "malformed_number" "{} is not a number: type it as in -2.25";
    DoubleSign 6 "double_sign" "there is more than one sign at {}: type one sign against the figure, as in -2.25";
    MissingDecimalPoint 6 "missing_decimal_point" "{} has no decimal point: type -0.25, -2.50 or -25.00 in full";
    PowerNotOnStep 6 "power_not_on_step" "{} is not a quarter or an eighth of a dioptre: type .00 .25 .50 .75, or .12 .37 .62 .87";
    MissingSign 6 "missing_sign" "{} has no sign: type + or - in front of it";
    NegativeAddition 6 "negative_addition" "the addition {} is minus: type it plus, as in add +2.00";
    SphereOutOfRange 6 "sphere_out_of_range" "the sphere {} is beyond 40 D: type a sphere from -40.00 to +40.00";
    CylinderOutOfRange 6 "cylinder_out_of_range" "the cylinder {} is beyond 20 D: type a cylinder from -20.00 to +20.00";
    AdditionOutOfRange 6 "addition_out_of_range" "the addition {} is above 10 D: type an addition up to +10.00";
    AxisMissing 7 "axis_missing" "the cylinder has no axis: type x and the axis from 1 to 180, as in x 90";
    AxisWithoutCylinder 7 "axis_without_cylinder" "there is an axis but no cylinder: type the cylinder before the axis, or leave the axis out";
    SphereOrCylinderMissing 7 "sphere_or_cylinder_missing" "one power with an axis is either sphere or cylinder: type both, as in plano -0.75 x 90";
    AxisNotInteger 7 "axis_not_integer" "the axis {} is not a whole number: type whole degrees from 1 to 180";
    AxisSigned 7 "axis_signed" "the axis {} has a sign: type it without one, from 1 to 180";
    AxisZeroUse180 7 "axis_zero_use_180" "the axis is 0: type 180 for the horizontal";
    AxisOutOfRange 7 "axis_out_of_range" "the axis {} is not from 1 to 180: type whole degrees from 1 to 180";
    AxisWithZeroCylinder 7 "axis_with_zero_cylinder" "a cylinder of 0.00 has the axis {}: type the cylinder, or leave both out";
    PrismAmountMissing 9 "prism_amount_missing" "{} has no amount before it: type amount and base, as in 2 base in";
    PrismBaseMissing 9 "prism_base_missing" "the prism at {} has no base: type in, out, up, down or @ and its angle after the amount";
    PrismBaseAmbiguous 9 "prism_base_ambiguous" "the base {} could be read in more than one way: type BU, BD, BI or BO";
    PrismHalfCircleNotSupported 9 "prism_half_circle_not_supported" "a base given by half circle and angle needs the eye: type two prisms, as in 2 in 1.5 up, or @ 0 to 359";
    PrismSplitAmbiguous 9 "prism_split_ambiguous" "it is not said how the prism is shared: type how much goes in each lens, eye by eye";
    PrismSigned 9 "prism_signed" "the prism {} has a sign: type it without one and let the base give the direction";
    PrismOutOfRange 9 "prism_out_of_range" "the prism {} is above 30: type an amount up to 30";
    PrismBaseAngleNotInteger 9 "prism_base_angle_not_integer" "the base angle {} is not a whole number: type whole degrees from 0 to 360";
    PrismBaseAngleOutOfRange 9 "prism_base_angle_out_of_range" "the base angle {} is not from 0 to 360: type whole degrees from 0 to 360";
    PrismBasesConflict 9 "prism_bases_conflict" "{} repeats or opposes a prism already written: type at most one vertical and one horizontal, or one angle";
    NearPrismAmbiguous 9 "near_prism_ambiguous" "the prism {} may be for distance or near: type the distance prism first, then near and the near prism";
    VertexOutOfRange 9 "vertex_out_of_range" "the vertex distance {} is not from 5 to 25 mm: type it in millimetres, as in BVD 12";
    UnexpectedText 10 "unexpected_text" "{} is not part of a written power: take it out, or put it in a note";
}

impl fmt::Display for ErrorKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.code())
    }
}

/// Why a written prescription was refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct NotationError {
    /// The kind of refusal.
    pub kind: ErrorKind,
    /// One sentence: what is wrong and what to type instead. It repeats no more of the line than
    /// the piece in question, cut short when that is long, so that no name reaches a log.
    pub message: String,
}

impl NotationError {
    /// Makes the refusal of a piece of the line.
    pub(super) fn new(kind: ErrorKind, piece: &str) -> Self {
        let mut shown: String = piece.chars().take(SHOWN).collect();
        if piece.chars().nth(SHOWN).is_some() {
            shown.push('…');
        }
        Self {
            kind,
            message: kind.sentence().replace("{}", &format!("\"{shown}\"")),
        }
    }
}

/// One failed check, with its step and its position in the line.
struct Issue {
    step: u8,
    at: usize,
    error: NotationError,
}

/// Every failed check of a line, of which one is reported.
#[derive(Default)]
pub(super) struct Issues(Vec<Issue>);

impl Issues {
    /// Notes a failed check at its usual step.
    pub(super) fn add(&mut self, kind: ErrorKind, at: usize, piece: &str) {
        self.add_in(kind.step(), kind, at, piece);
    }

    /// Notes a failed check at the step in which it was met.
    pub(super) fn add_in(&mut self, step: u8, kind: ErrorKind, at: usize, piece: &str) {
        self.0.push(Issue {
            step,
            at,
            error: NotationError::new(kind, piece),
        });
    }

    /// Returns the refusal of the earliest step and, within it, of the first position.
    pub(super) fn first(self) -> Option<NotationError> {
        self.0
            .into_iter()
            .min_by_key(|issue| (issue.step, issue.at))
            .map(|issue| issue.error)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use std::collections::HashSet;

    use super::*;

    #[test]
    fn every_kind_has_its_own_code_and_says_what_to_do() {
        let codes: HashSet<_> = ErrorKind::ALL.iter().map(|kind| kind.code()).collect();
        assert_eq!(codes.len(), ErrorKind::ALL.len());
        for kind in ErrorKind::ALL {
            assert!(
                kind.sentence().contains(": t"),
                "{kind} does not say what to type"
            );
            assert!(
                !kind.sentence().ends_with('.'),
                "{kind} is not one bare sentence"
            );
        }
    }

    #[test]
    fn the_earliest_step_is_told_and_then_the_leftmost_place() {
        let mut issues = Issues::default();
        issues.add(ErrorKind::UnexpectedText, 0, "a");
        issues.add(ErrorKind::MissingSign, 9, "b");
        issues.add(ErrorKind::PowerNotOnStep, 5, "c");
        issues.add(ErrorKind::AxisMissing, 1, "d");
        assert_eq!(issues.first().unwrap().kind, ErrorKind::PowerNotOnStep);
    }

    #[test]
    fn a_long_piece_is_cut_short_in_the_message() {
        let error = NotationError::new(ErrorKind::UnexpectedText, &"y".repeat(500));
        assert!(
            error
                .message
                .contains(&format!("\"{}…\"", "y".repeat(SHOWN)))
        );
        assert!(!error.message.contains(&"y".repeat(SHOWN + 1)));
    }
}
