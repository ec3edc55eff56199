//! The refusals: a fixed kind for programs, a sentence for people.

macro_rules! kinds {
    ($($(#[$doc:meta])* $name:ident = $code:literal, $says:literal;)+) => {
        /// Why a line was refused.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum ErrorKind { $($(#[$doc])* $name),+ }

        impl ErrorKind {
            /// Every kind.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];
            /// The fixed word of the kind.
            pub const fn code(self) -> &'static str { match self { $(Self::$name => $code),+ } }
            const fn says(self) -> &'static str { match self { $(Self::$name => $says),+ } }
        }
    };
}

kinds! {
    /// Nothing typed.
    Empty = "empty", "nothing is written: type a power such as -2.25/-0.75x90";
    /// A mark for no value.
    NoValue = "no_value", "this says that there is no value: type plano for a lens without power, or leave the field empty";
    /// An em dash before a figure.
    AmbiguousDash = "ambiguous_dash", "a long dash may be a blank or a minus: type - for minus";
    /// A plus-minus sign.
    AmbiguousSign = "ambiguous_sign", "plus or minus is not said: type + or -";
    /// A character outside the notation.
    UnsupportedCharacter = "unsupported_character", "there is a character that no prescription uses: type it with plain figures, signs and letters";
    /// Commas as decimals and separators.
    AmbiguousComma = "ambiguous_comma", "commas stand both in and between figures: type decimal points";
    /// Points and commas as decimals.
    MixedDecimalSeparators = "mixed_decimal_separators", "decimal points and decimal commas are mixed: type decimal points";
    /// An eye without label beside others.
    EyeLabelMissing = "eye_label_missing", "there are two eyes and not both are labelled: type R before the right and L before the left";
    /// The same eye twice.
    DuplicateEye = "duplicate_eye", "the same eye is written twice: type R and L once each";
    /// One addition after two eyes.
    AdditionScopeAmbiguous = "addition_scope_ambiguous", "one addition stands after two eyes: type it after each eye, or Add +2.00 OU for both";
    /// Near vision.
    NearRx = "near_rx_not_distance", "this is a near prescription: type the distance power with Add";
    /// A balance lens.
    Balance = "balance_lens_not_a_power", "a balance lens is no power: set the balance field and leave the power empty";
    /// A pupil distance.
    PdNotPart = "pd_not_part_of_rx_line", "a pupil distance belongs in its own field";
    /// A second addition.
    IntermediateAddition = "intermediate_addition_not_supported", "an intermediate addition has no place here: type the near addition alone";
    /// An @ before a cylinder's meridian.
    AtSign = "at_sign_is_meridian_not_axis", "@ marks a power's own meridian: type the axis after x";
    /// A sphere mark on the cylinder.
    DsOnCylinder = "ds_on_cylinder", "DS stands on the second power: type DS after the sphere, DC after the cylinder";
    /// No sphere.
    SphereMissing = "sphere_missing", "the sphere is missing: type it, plano as 0.00";
    /// One power with an axis.
    SphereOrCylinderMissing = "sphere_or_cylinder_missing", "one power and an axis: type both sphere and cylinder, plano as 0.00";
    /// More figures than places.
    TooManyValues = "too_many_values", "there are more figures than a prescription has: type sphere, cylinder, x, axis";
    /// Addition without figure.
    AdditionMissing = "addition_missing", "Add has no figure: type it as Add +2.00";
    /// Vertex distance without figure.
    VertexMissing = "vertex_missing", "the vertex distance has no figure: type it as BVD 12";
    /// A figure that is none.
    MalformedNumber = "malformed_number", "a figure is malformed: type it as -2.25";
    /// Two signs.
    DoubleSign = "double_sign", "a figure has two signs: type one";
    /// No decimal point.
    MissingDecimalPoint = "missing_decimal_point", "a power of two or more figures has no decimal point: type it as -2.25 or -10.00";
    /// Off the steps.
    PowerNotOnStep = "power_not_on_step", "a power stands on no quarter or eighth: type .00 .25 .50 .75 or an eighth such as .125";
    /// No sign.
    MissingSign = "missing_sign", "a power has no sign: type + or -";
    /// A minus addition.
    NegativeAddition = "negative_addition", "an addition is never minus: type it as Add +2.00";
    /// Sphere beyond its range.
    SphereOutOfRange = "sphere_out_of_range", "the sphere is beyond 40.00 D: read it again";
    /// Cylinder beyond its range.
    CylinderOutOfRange = "cylinder_out_of_range", "the cylinder is beyond 20.00 D: read it again";
    /// Addition beyond its range.
    AdditionOutOfRange = "addition_out_of_range", "the addition is beyond 10.00 D: read it again";
    /// Vertex distance beyond its range.
    VertexOutOfRange = "vertex_out_of_range", "the vertex distance is outside 5 to 25 mm: type it in millimetres";
    /// Cylinder without axis.
    AxisMissing = "axis_missing", "the cylinder has no axis: type it after x, 1 to 180";
    /// Axis without cylinder.
    AxisWithoutCylinder = "axis_without_cylinder", "an axis without a cylinder: type the cylinder or leave the axis out";
    /// Axis with a zero cylinder.
    AxisWithZeroCylinder = "axis_with_zero_cylinder", "a cylinder of zero with an axis contradicts itself: type one or leave both out";
    /// Axis 0.
    AxisZero = "axis_zero_use_180", "axis 0 may be an unfilled field: type 180";
    /// Axis with a sign.
    AxisSigned = "axis_signed", "an axis has no sign: type 1 to 180";
    /// Axis with a fraction.
    AxisNotInteger = "axis_not_integer", "an axis is in whole degrees: type 1 to 180";
    /// Axis beyond 180.
    AxisOutOfRange = "axis_out_of_range", "the axis is beyond 180: type 1 to 180";
    /// A single letter as base.
    PrismBaseAmbiguous = "prism_base_ambiguous", "a single letter for the base may mean something else: type base up, down, in or out";
    /// No base.
    PrismBaseMissing = "prism_base_missing", "the prism has no base: type base up, down, in or out";
    /// No amount.
    PrismAmountMissing = "prism_amount_missing", "the base has no amount: type it as 2.00 base up";
    /// A signed amount.
    PrismSigned = "prism_signed", "a prism has a base in place of a sign: type the amount without sign";
    /// Beyond range.
    PrismOutOfRange = "prism_out_of_range", "the prism is beyond 30 prism dioptres: read it again";
    /// Two bases in one direction.
    PrismBasesConflict = "prism_bases_conflict", "two bases stand in one direction, or beside an angle: type one horizontal and one vertical amount";
    /// Angle beyond range.
    PrismBaseAngleOutOfRange = "prism_base_angle_out_of_range", "the base angle is beyond 360 degrees: type 0 to 359";
    /// Half-circle notation.
    PrismHalfCircle = "prism_half_circle_not_supported", "the half-circle notation needs the eye: type the components, or the angle 0 to 359";
    /// A split that is not said.
    PrismSplitAmbiguous = "prism_split_ambiguous", "how the prism is split is not said: type the amount of each lens";
    /// Anything else.
    UnexpectedText = "unexpected_text", "there is text that is no part of a power: type the power alone";
}

/// A line that was refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct NotationError {
    /// The kind.
    pub kind: ErrorKind,
    /// What is wrong and what to type.
    pub message: String,
}

impl From<ErrorKind> for NotationError {
    fn from(kind: ErrorKind) -> Self {
        Self {
            kind,
            message: kind.says().to_owned(),
        }
    }
}
