//! Why a line was refused: one code for machines, one sentence for people.

use std::fmt;

macro_rules! kinds {
    ($($(#[$doc:meta])* $name:ident, $code:literal, $message:literal;)*) => {
        /// Why a line was refused.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum ErrorKind {
            $($(#[$doc])* $name,)*
        }

        impl ErrorKind {
            /// Every kind there is.
            pub const ALL: &'static [Self] = &[$(Self::$name,)*];

            /// Returns the code that the command line answers with.
            pub const fn code(self) -> &'static str {
                match self {
                    $(Self::$name => $code,)*
                }
            }

            /// The sentence, with `{}` where the refused text is named.
            const fn sentence(self) -> &'static str {
                match self {
                    $(Self::$name => $message,)*
                }
            }
        }
    };
}

kinds! {
    /// Nothing was typed.
    Empty, "empty", "nothing was typed: type a prescription such as -2.25 -0.75 x 90";
    /// A mark for a blank stands where the power belongs.
    NoValue, "no_value", "{} stands for no value: type plano for a lens without power, or leave the field empty";
    /// A character that has no meaning in a prescription.
    UnsupportedCharacter, "unsupported_character", "the character {} cannot be read here: type the line again with plain figures, + or - and spaces";
    /// A dash that may be a minus or the mark for a blank.
    AmbiguousDash, "ambiguous_dash", "the dash before a figure may be a minus or a blank: type - directly before the figure, as in -2.25";
    /// Plus and minus in one.
    AmbiguousSign, "ambiguous_sign", "{} says both plus and minus: type one sign, + or -";
    /// A comma that may be a decimal or stand between fields.
    AmbiguousComma, "ambiguous_comma", "the comma may be a decimal or stand between fields: type decimal points, as in -2.25 -0.75 x 90";
    /// Points and commas both used as decimals.
    MixedDecimalSeparators, "mixed_decimal_separators", "decimals are written with both points and commas: type points throughout, as in -2.25 -0.75 x 90";
    /// One eye named twice.
    DuplicateEye, "duplicate_eye", "{} names an eye that is already named: type R before one part and L before the other";
    /// Two prescriptions, at least one without its eye.
    EyeLabelMissing, "eye_label_missing", "part of the line belongs to no named eye: type R before the right eye and L before the left";
    /// No sphere for an eye.
    SphereMissing, "sphere_missing", "no sphere is written: type it first, as in -2.25, or plano for none";
    /// One power with an axis: one power is not written.
    SphereOrCylinderMissing, "sphere_or_cylinder_missing", "one power with an axis may be a sphere or a cylinder: type both, as in plano -0.75 x 180";
    /// The mark of a sphere after the cylinder.
    DsOnCylinder, "ds_on_cylinder", "{} marks a sphere but stands on the cylinder: type DC there, or leave it out";
    /// More values than a prescription has.
    TooManyValues, "too_many_values", "{} is one value too many: type sphere, cylinder and axis once, and put Add, BVD or a prism base to any other value";
    /// `@` names the meridian of a power, not the axis of a cylinder.
    AtSignIsMeridianNotAxis, "at_sign_is_meridian_not_axis", "@ names the meridian of a power, not an axis: type sphere, cylinder and axis, as in -2.25 -0.75 x 90";
    /// A prescription for near where one for distance belongs.
    NearRxNotDistance, "near_rx_not_distance", "{} says that the powers are for near: type the distance powers, and the addition after Add";
    /// A second addition, for the middle distance.
    IntermediateAdditionNotSupported, "intermediate_addition_not_supported", "an intermediate addition cannot be kept: type only the near addition after Add";
    /// A balance lens has no written power.
    BalanceLensNotAPower, "balance_lens_not_a_power", "{} asks for a balance lens, which is no power: type the power that it shall have";
    /// A pupil distance has its own field.
    PdNotPartOfRxLine, "pd_not_part_of_rx_line", "a pupil distance is no part of this line: type it in its own field";
    /// The word without a figure.
    AdditionMissing, "addition_missing", "no figure follows {}: type the addition after it, as in Add +2.00";
    /// One addition that may belong to one eye or to both.
    AdditionScopeAmbiguous, "addition_scope_ambiguous", "the one addition may be for one eye or for both: type it in each eye, or add OU after it";
    /// The word without a figure.
    AcuityMissing, "acuity_missing", "no acuity follows {}: type it after the word, as in VA 6/6";
    /// The word without a figure.
    VertexMissing, "vertex_missing", "no figure follows {}: type the vertex distance in millimetres, as in BVD 12";
    /// Not the form of a number.
    MalformedNumber, "malformed_number", "{} is not a number: type figures with one point, as in -2.25";
    /// More than one sign.
    DoubleSign, "double_sign", "{} has more than one sign: type one sign, + or -";
    /// Two figures or more without a point.
    MissingDecimalPoint, "missing_decimal_point", "{} has no decimal point: type it with two decimals, as in -2.25 or -10.00";
    /// Neither a quarter nor an eighth.
    PowerNotOnStep, "power_not_on_step", "{} is not on a quarter or an eighth of a dioptre: type a power such as 2.25 or 2.125";
    /// A power other than zero without a sign.
    MissingSign, "missing_sign", "{} has no sign: type + or - before it";
    /// An addition with a minus.
    NegativeAddition, "negative_addition", "{} is minus, and an addition never is: type it with +, as in Add +2.00";
    /// A cylinder without its axis.
    AxisMissing, "axis_missing", "the cylinder has no axis: type x and 1 to 180 after it, as in -0.75 x 90";
    /// An axis that is not in whole degrees.
    AxisNotInteger, "axis_not_integer", "{} is no axis in whole degrees: type a whole number from 1 to 180";
    /// An axis with a sign.
    AxisSigned, "axis_signed", "{} has a sign, and an axis has none: type a whole number from 1 to 180";
    /// Axis 0, which is written 180.
    AxisZeroUse180, "axis_zero_use_180", "axis {} may be a blank: type 180 for the horizontal";
    /// An axis above 180.
    AxisOutOfRange, "axis_out_of_range", "axis {} is outside 1 to 180: type a whole number within that range";
    /// An axis after a sphere alone.
    AxisWithoutCylinder, "axis_without_cylinder", "an axis follows a sphere without a cylinder: type the cylinder between them, or leave the axis out";
    /// An axis after a cylinder of zero.
    AxisWithZeroCylinder, "axis_with_zero_cylinder", "axis {} follows a cylinder of zero: type the cylinder, or leave both out";
    /// A sphere beyond 40 dioptres.
    SphereOutOfRange, "sphere_out_of_range", "sphere {} is outside -40.00 to +40.00 D: type a power within that range";
    /// A cylinder beyond 20 dioptres.
    CylinderOutOfRange, "cylinder_out_of_range", "cylinder {} is outside -20.00 to +20.00 D: type a power within that range";
    /// An addition beyond 10 dioptres.
    AdditionOutOfRange, "addition_out_of_range", "addition {} is outside 0 to +10.00 D: type a power within that range";
    /// A vertex distance outside 5 to 25 mm.
    VertexOutOfRange, "vertex_out_of_range", "vertex distance {} is outside 5 to 25 mm: type it in millimetres, as in BVD 12";
    /// A base without an amount.
    PrismAmountMissing, "prism_amount_missing", "{} has no amount before it: type the amount and the base, as in 2Δ BU";
    /// An amount without a base.
    PrismBaseMissing, "prism_base_missing", "prism {} has no base: type BU, BD, BI, BO or an angle after it, as in 2Δ BU or 2Δ @ 37";
    /// One letter for a base.
    PrismBaseAmbiguous, "prism_base_ambiguous", "one letter, {}, does not name a base: type BU, BD, BI or BO";
    /// Two bases that cannot both be meant.
    PrismBasesConflict, "prism_bases_conflict", "{} does not go with the base before it: type at most one of BU or BD and one of BI or BO, or one angle";
    /// A base angle outside 0 to 360.
    PrismBaseAngleOutOfRange, "prism_base_angle_out_of_range", "base angle {} is outside 0 to 360: type whole degrees within that range, as in 2Δ @ 37";
    /// One amount with two directions.
    PrismHalfCircleNotSupported, "prism_half_circle_not_supported", "one amount with two directions cannot be read: type an amount for each, as in 2Δ BI & 1Δ BU, or one angle from 0 to 359";
    /// A prism to be shared between the lenses.
    PrismSplitAmbiguous, "prism_split_ambiguous", "{} does not say how much prism goes in each lens: type the amount for each eye";
    /// A prism with a sign.
    PrismSigned, "prism_signed", "prism {} has a sign as well as a base: type the amount without a sign";
    /// A prism beyond 30 prism dioptres.
    PrismOutOfRange, "prism_out_of_range", "prism {} is outside 0 to 30 prism dioptres: type an amount within that range";
    /// Text that is no part of a prescription.
    UnexpectedText, "unexpected_text", "{} is no part of a prescription: take it out, or type it in the notes";
}

/// A refused line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotationError {
    /// Why it was refused.
    pub kind: ErrorKind,
    /// What is wrong and what to type instead.
    pub message: String,
}

impl NotationError {
    /// Makes a refusal that names the refused text and nothing else of the line.
    pub(super) fn new(kind: ErrorKind, text: &str) -> Self {
        // A prescription line may carry a name: no more of it is repeated than one short word.
        let mut short: String = text.chars().take(16).map(shown).collect();
        if text.chars().nth(16).is_some() {
            short.push('…');
        }
        let message = kind
            .sentence()
            .replace("{}", &format!("\u{201c}{short}\u{201d}"));
        Self { kind, message }
    }
}

/// Makes characters that a terminal would obey or hide visible.
fn shown(c: char) -> char {
    let hidden = matches!(c, '\u{ad}' | '\u{61c}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}');
    if c.is_control() || hidden {
        '\u{fffd}'
    } else {
        c
    }
}

impl fmt::Display for NotationError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for NotationError {}

/// One failed check: the step of the policy, the place in the line, and why.
#[derive(Debug, Clone)]
struct Issue {
    step: u8,
    place: usize,
    error: NotationError,
}

/// The failed checks of one line, of which one is reported.
#[derive(Debug, Clone, Default)]
pub(super) struct Issues(Vec<Issue>);

impl Issues {
    /// Notes a failed check.
    pub(super) fn add(&mut self, step: u8, place: usize, kind: ErrorKind, text: &str) {
        let error = NotationError::new(kind, text);
        self.0.push(Issue { step, place, error });
    }

    /// Whether a check of this step failed at this place or to the right of it.
    pub(super) fn any_from(&self, step: u8, place: usize) -> bool {
        self.0.iter().any(|i| i.step == step && i.place >= place)
    }

    /// Returns the refusal to report: the earliest step, and within it the leftmost place.
    pub(super) fn first(self) -> Option<NotationError> {
        let found = self.0.into_iter().min_by_key(|i| (i.step, i.place));
        found.map(|i| i.error)
    }
}
