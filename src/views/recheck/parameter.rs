//! The parameters that are compared, and the sources of their values.

/// Declares the parameters.
macro_rules! parameters {
    ($($(#[$doc:meta])* $name:ident = $key:literal, $title:literal, $unit:literal, $decimals:literal;)+) => {
        /// A parameter of the comparison.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Parameter { $($(#[$doc])* $name),+ }

        impl Parameter {
            /// Every one, in the order in which they are shown.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];
            /// Name in answers to programs.
            pub const fn key(self) -> &'static str { match self { $(Self::$name => $key),+ } }
            /// Name on screens.
            pub const fn title(self) -> &'static str { match self { $(Self::$name => $title),+ } }
            /// Unit, empty for words.
            pub const fn unit(self) -> &'static str { match self { $(Self::$name => $unit),+ } }
            /// Decimals it is shown with.
            pub const fn decimals(self) -> usize { match self { $(Self::$name => $decimals),+ } }
        }
    };
}

parameters! {
    /// The power as a vector; its mean part is shown.
    Power = "power", "mean power", "D", 2;
    /// Sphere, minus-cylinder form.
    Sphere = "sphere", "sphere", "D", 2;
    /// Cylinder, minus-cylinder form.
    Cylinder = "cylinder", "cylinder", "D", 2;
    /// Axis of the minus cylinder.
    Axis = "axis", "axis", "degrees", 0;
    /// Mean power of the right less the left.
    Balance = "balance", "right less left", "D", 2;
    /// Addition.
    Addition = "addition", "addition", "D", 2;
    /// Horizontal prism of the pair, base in.
    PrismHorizontal = "prism-horizontal", "prism base in", "Δ", 2;
    /// Vertical prism of the pair, right up less left up.
    PrismVertical = "prism-vertical", "prism R up less L", "Δ", 2;
    /// Whether the lens is a balance lens.
    BalanceLens = "balance-lens", "balance lens", "", 0;
    /// Centration distance.
    Centration = "centration", "centration", "mm", 1;
    /// Distance less near centration.
    NearInset = "near-inset", "near inset", "mm", 1;
    /// Height of fitting cross, pupil or segment.
    Height = "height", "height", "mm", 1;
    /// Right height less left.
    HeightDifference = "height-difference", "height R less L", "mm", 1;
    /// Vertex distance.
    Vertex = "vertex", "vertex distance", "mm", 1;
    /// Pantoscopic angle.
    Tilt = "tilt", "tilt", "degrees", 0;
    /// Face form.
    FaceForm = "face-form", "face form", "degrees", 0;
    /// Working distance.
    Working = "working-distance", "working distance", "mm", 0;
    /// Design.
    Design = "design", "design", "", 0;
    /// Maker, product and variant of the lenses.
    Product = "product", "lens", "", 0;
    /// Corridor length.
    Corridor = "corridor", "corridor", "mm", 1;
    /// Segment.
    Segment = "segment", "segment", "", 0;
    /// Front curve.
    FrontCurve = "front-curve", "front curve", "D", 2;
    /// Centre thickness.
    CentreThickness = "centre-thickness", "centre thickness", "mm", 1;
    /// Refractive index.
    Index = "index", "index", "", 3;
    /// Abbe number.
    Abbe = "abbe", "Abbe number", "", 0;
    /// Tint.
    Tint = "tint", "tint", "", 0;
    /// Coatings.
    Coatings = "coatings", "coatings", "", 0;
    /// Boxed width.
    BoxedWidth = "boxed-width", "boxed width", "mm", 1;
    /// Boxed height.
    BoxedHeight = "boxed-height", "boxed height", "mm", 1;
    /// Distance between lenses.
    BetweenLenses = "between-lenses", "between lenses", "mm", 1;
    /// Length to bend.
    LengthToBend = "length-to-bend", "length to bend", "mm", 0;
    /// Width between the sides at the ears.
    HeadWidth = "head-width", "head width", "mm", 0;
    /// Pads.
    Pads = "pads", "pads", "", 0;
    /// Power as made, along the axis.
    MadeAlong = "made-power-along-axis", "made: along axis", "D", 2;
    /// Power as made, across the axis.
    MadeAcross = "made-power-across-axis", "made: across axis", "D", 2;
    /// Cylinder as made.
    MadeCylinder = "made-cylinder", "made: cylinder", "D", 2;
    /// Axis as made.
    MadeAxis = "made-axis", "made: axis", "degrees", 0;
    /// Addition as made.
    MadeAddition = "made-addition", "made: addition", "D", 2;
    /// Horizontal prism as made.
    MadePrismHorizontal = "made-prism-horizontal", "made: prism in", "Δ", 2;
    /// Vertical prism as made.
    MadePrismVertical = "made-prism-vertical", "made: prism R-L", "Δ", 2;
    /// Centration as made.
    MadeCentration = "made-centration", "made: centration", "mm", 1;
    /// Height as made.
    MadeHeight = "made-height", "made: height", "mm", 1;
    /// Right height less left as made.
    MadeHeightDifference = "made-height-difference", "made: height R-L", "mm", 1;
}

impl Parameter {
    /// Whether it compares a reading with the order, by the practice's standard.
    pub fn is_made(self) -> bool {
        self >= Self::MadeAlong
    }
}

/// Where a value comes from, the oldest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Source {
    /// The pair worn before.
    Previous,
    /// This pair as it was ordered, or measured for the order.
    Ordered,
    /// This pair as it was read when it came.
    Read,
    /// This pair as it was handed over.
    HandedOver,
    /// This pair after repairs since the handover, where they changed a value.
    Repaired,
    /// Measured or read at the recheck.
    Now,
}

impl Source {
    /// Every source, the oldest first.
    pub const ALL: [Self; 6] = [
        Self::Previous,
        Self::Ordered,
        Self::Read,
        Self::HandedOver,
        Self::Repaired,
        Self::Now,
    ];

    /// What a person calls it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Previous => "previous pair",
            Self::Ordered => "ordered",
            Self::Read => "read",
            Self::HandedOver => "handed over",
            Self::Repaired => "set by a repair",
            Self::Now => "now",
        }
    }

    /// Its place among all.
    pub const fn place(self) -> usize {
        match self {
            Self::Previous => 0,
            Self::Ordered => 1,
            Self::Read => 2,
            Self::HandedOver => 3,
            Self::Repaired => 4,
            Self::Now => 5,
        }
    }
}
