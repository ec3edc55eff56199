//! From which difference on a value of a pair that came back is suspected: one table, each row with
//! its source. A practice may set its own.
//!
//! These are limits of suspicion, not tolerances: they say where to look first, not what is wrong,
//! and they hold no job. What a finished pair may differ from its order is the standard's
//! (`tolerance`). "From here on" includes the limit itself.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

macro_rules! suspects {
    ($(#[doc = $doc:literal] $name:ident = $key:literal, $default:literal, $unit:literal, $source:literal;)+) => {
        /// A difference from which on a value is suspected.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Suspect { $(#[doc = $doc] $name),+ }

        impl Suspect {
            /// Every row of the table.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];
            /// Name in answers to programs.
            pub const fn key(self) -> &'static str { match self { $(Self::$name => $key),+ } }
            /// Name under which a practice sets it.
            pub const fn setting(self) -> &'static str { match self { $(Self::$name => concat!("recheck-", $key)),+ } }
            /// The difference where the practice has set none.
            pub const fn default_value(self) -> f64 { match self { $(Self::$name => $default),+ } }
            /// What it is, one sentence.
            pub const fn meaning(self) -> &'static str { match self { $(Self::$name => $doc),+ } }
            /// Unit.
            pub const fn unit(self) -> &'static str { match self { $(Self::$name => $unit),+ } }
            /// Source ("common practice" where nothing is published).
            pub const fn source(self) -> &'static str { match self { $(Self::$name => $source),+ } }
        }
    };
}

suspects! {
    /// Length of the difference of two powers as vectors.
    Power = "power", 0.5, "D", "Freeman and Evans 2010: 84 % of re-checks were solved within 0.50 D";
    /// Sphere, minus-cylinder form.
    Sphere = "sphere", 0.5, "D", "Freeman and Evans 2010: 84 % of re-checks were solved within 0.50 D";
    /// Sphere, where plus is added to the distance power of a presbyope.
    SpherePlus = "sphere-plus", 0.25, "D", "UK multi-practice re-check study, Ophthalmic and Physiological Optics 2022";
    /// Size of the cylinder.
    Cylinder = "cylinder", 0.5, "D", "common practice";
    /// Axis of a cylinder from 0.75 D on.
    Axis = "axis", 10.0, "degrees", "common practice";
    /// Axis of a cylinder from 2.00 D on, or of an oblique one.
    AxisStrong = "axis-strong", 5.0, "degrees", "common practice";
    /// Size of a cylinder whose axis is judged.
    AxisFrom = "axis-from", 0.75, "D", "common practice";
    /// Size of a cylinder whose axis is judged strictly.
    AxisStrongFrom = "axis-strong-from", 2.0, "D", "common practice";
    /// How near to 45 or 135 an axis counts as oblique.
    Oblique = "oblique", 15.0, "degrees", "textbook, from memory";
    /// Age from which an eye counts as presbyopic where no addition is recorded.
    Presbyope = "presbyope", 45.0, "years", "common practice";
    /// Mean power of the right eye less that of the left.
    Balance = "balance", 0.5, "D", "common practice";
    /// Addition.
    Addition = "addition", 0.5, "D", "common practice";
    /// Working distance.
    Working = "working-distance", 50.0, "mm", "common practice";
    /// Horizontal prism of the pair.
    PrismHorizontal = "prism-horizontal", 1.0, "prism dioptres", "common practice";
    /// Vertical prism of the pair.
    PrismVertical = "prism-vertical", 0.5, "prism dioptres", "McCarthy, anisometropia: most adjust to about half a prism dioptre";
    /// Centration distance of an eye.
    Centration = "centration", 1.5, "mm", "McMahon et al. 2012: two ruler readings by a trained hand stay within 1.2 mm";
    /// Prism that a changed centration distance makes of the lens's power.
    CentrationPrism = "centration-prism", 0.5, "prism dioptres", "common practice";
    /// Near inset of an eye.
    NearInset = "near-inset", 1.0, "mm", "common practice";
    /// Height of a fitting cross or segment.
    Height = "height", 1.0, "mm", "ISO 21987:2017 position limit, from memory";
    /// Right height less left height.
    HeightDifference = "height-difference", 1.0, "mm", "ISO 21987:2017 position limit, from memory";
    /// Height of the optical centre of a single-vision lens.
    CentreHeight = "centre-height", 3.0, "mm", "common practice";
    /// Power from which that height is judged.
    CentreHeightFrom = "centre-height-from", 3.0, "D", "common practice";
    /// Vertex distance of a lens below the next limit.
    VertexWeak = "vertex-weak", 5.0, "mm", "the change of power is F squared over 1000 for each mm: 0.12 D for 5 mm at 5 D";
    /// Vertex distance from 5 D on.
    VertexMiddle = "vertex-middle", 2.0, "mm", "the change of power is F squared over 1000 for each mm";
    /// Vertex distance from 8 D on.
    VertexStrong = "vertex-strong", 1.0, "mm", "the change of power is F squared over 1000 for each mm: 0.06 D at 8 D";
    /// Power from which the middle limit holds.
    VertexMiddleFrom = "vertex-middle-from", 5.0, "D", "common practice";
    /// Power from which the strict limit holds.
    VertexStrongFrom = "vertex-strong-from", 8.0, "D", "common practice";
    /// Pantoscopic angle; the error of reading it alone reaches as much, so measure it twice.
    Tilt = "tilt", 5.0, "degrees", "Garcia-Espinilla et al. 2022: two readings differ by up to 5 degrees";
    /// Face form.
    FaceForm = "face-form", 5.0, "degrees", "common practice";
    /// Front curve.
    FrontCurve = "front-curve", 1.0, "D", "common practice";
    /// Centre thickness of a plus lens.
    CentreThickness = "centre-thickness", 1.0, "mm", "common practice";
    /// Refractive index.
    Index = "index", 0.1, "(no unit)", "common practice";
    /// Abbe number.
    Abbe = "abbe", 10.0, "(no unit)", "common practice";
    /// Corridor of a power-variation design.
    Corridor = "corridor", 2.0, "mm", "common practice";
    /// Boxed width, boxed height or distance between lenses.
    Boxed = "boxed", 5.0, "mm", "common practice";
    /// Length to bend.
    LengthToBend = "length-to-bend", 3.0, "mm", "common practice";
    /// Head width the sides are set to.
    HeadWidth = "head-width", 4.0, "mm", "common practice";
}

/// The limits of suspicion in force: the defaults, less what the practice has set.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Suspects(BTreeMap<String, f64>);

impl Suspects {
    /// Returns the difference in force.
    pub fn get(&self, suspect: Suspect) -> f64 {
        let own = self.0.get(suspect.key()).copied();
        own.unwrap_or_else(|| suspect.default_value())
    }

    /// Whether the practice has set its own.
    pub fn is_own(&self, suspect: Suspect) -> bool {
        self.0.contains_key(suspect.key())
    }

    /// Whether the practice has set none of its own.
    pub fn is_default(&self) -> bool {
        self.0.is_empty()
    }

    /// Takes the practice's own value back.
    pub fn clear(&mut self, suspect: Suspect) {
        self.0.remove(suspect.key());
    }

    /// Sets the practice's own value.
    pub fn set(&mut self, suspect: Suspect, value: f64) {
        self.0.insert(suspect.key().to_owned(), value);
    }
}
