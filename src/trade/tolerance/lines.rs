//! The outcome of a comparison: one line for each thing tested.

use serde::{Serialize, Serializer};

use crate::trade::eye::Eye;

use super::limit::{Cite, DUST, Limit};

/// The quantity that a line compares, with its unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Quantity {
    /// The power along the ordered (minus-cylinder) axis, dioptres.
    PowerAlongAxis,
    /// The power across it, dioptres.
    PowerAcrossAxis,
    /// The size of the cylinder, dioptres.
    Cylinder,
    /// The direction of the cylinder axis, degrees.
    Axis,
    /// The addition, dioptres.
    Addition,
    /// The pair's horizontal prism, base in added, prism dioptres.
    PrismHorizontal,
    /// The pair's vertical prism, right base up less left base up, prism dioptres.
    PrismVertical,
    /// One eye's centration distance, mm.
    Centration,
    /// One eye's height, mm.
    Height,
    /// Right height less left height, mm.
    HeightDifference,
}

impl Quantity {
    /// The name in answers to programs.
    pub const fn key(self) -> &'static str {
        match self {
            Self::PowerAlongAxis => "power_along_axis",
            Self::PowerAcrossAxis => "power_across_axis",
            Self::Cylinder => "cylinder",
            Self::Axis => "axis",
            Self::Addition => "addition",
            Self::PrismHorizontal => "prism_horizontal",
            Self::PrismVertical => "prism_vertical",
            Self::Centration => "centration",
            Self::Height => "height",
            Self::HeightDifference => "height_difference",
        }
    }

    /// The unit of the values and of the limit, as it is written after a number.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::PowerAlongAxis | Self::PowerAcrossAxis | Self::Cylinder | Self::Addition => "D",
            Self::PrismHorizontal | Self::PrismVertical => "prism dioptres",
            Self::Axis => "degrees",
            Self::Centration | Self::Height | Self::HeightDifference => "mm",
        }
    }

    /// How far past the printed limit still passes.
    ///
    /// The printed 0.12 and 0.37 are eighths of a dioptre cut to two places: 0.125 is meant to be
    /// within 0.12, and is not within 0.09. Degrees and millimetres are printed whole.
    pub const fn slack(self) -> f64 {
        match self {
            Self::PowerAlongAxis
            | Self::PowerAcrossAxis
            | Self::Cylinder
            | Self::Addition
            | Self::PrismHorizontal
            | Self::PrismVertical => 0.005,
            Self::Axis | Self::Centration | Self::Height | Self::HeightDifference => 0.0,
        }
    }

    /// Whether the line compares a power (a meridian or the cylinder) of a lens.
    pub const fn is_power(self) -> bool {
        matches!(
            self,
            Self::PowerAlongAxis | Self::PowerAcrossAxis | Self::Cylinder
        )
    }
}

/// The lens, or the pair, whose value a line compares.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LineEye {
    /// The right lens.
    Right,
    /// The left lens.
    Left,
    /// Both together.
    Pair,
}

impl LineEye {
    /// The word in answers and on screens.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Right => "right",
            Self::Left => "left",
            Self::Pair => "pair",
        }
    }

    /// Returns the eye, or `None` for the pair.
    pub const fn eye(self) -> Option<Eye> {
        match self {
            Self::Right => Some(Eye::Right),
            Self::Left => Some(Eye::Left),
            Self::Pair => None,
        }
    }
}

impl From<Eye> for LineEye {
    fn from(eye: Eye) -> Self {
        match eye {
            Eye::Right => Self::Right,
            Eye::Left => Self::Left,
        }
    }
}

impl Serialize for LineEye {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.serialize_str(self.word())
    }
}

/// One value of the pair against its order: the error, the limit and the verdict.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ToleranceLine {
    /// The quantity; it fixes the unit of the numbers below.
    pub what: Quantity,
    /// Whose it is.
    pub eye: LineEye,
    /// The ordered value, in minus-cylinder form where that matters.
    pub ordered: f64,
    /// The measured value, in the same form.
    pub measured: f64,
    /// The size of the difference as the standard counts it.
    pub error: f64,
    /// The largest error the standard prints.
    pub limit: f64,
    /// How far past the printed limit still passes ([`Quantity::slack`]).
    pub slack: f64,
    /// The error as a percentage of the printed limit; over 100 when past it.
    pub used_percent: f64,
    /// Whether the error is within the limit and its slack; the limit itself is within.
    pub pass: bool,
    /// Whether a value compared was worked out from places, not read.
    pub worked_out: bool,
    /// The clause that the limit comes from.
    pub cite: &'static Cite,
}

impl ToleranceLine {
    pub(crate) fn new(
        what: Quantity,
        eye: LineEye,
        (ordered, measured): (f64, f64),
        error: f64,
        limit: Limit,
    ) -> Self {
        let slack = what.slack();
        Self {
            what,
            eye,
            ordered,
            measured,
            error,
            limit: limit.value,
            slack,
            used_percent: 100.0 * error / limit.value,
            pass: error <= limit.value + slack + DUST,
            worked_out: false,
            cite: limit.cite,
        }
    }

    /// Whether the error is within the printed limit itself, its slack not counted.
    pub fn within_print(&self) -> bool {
        self.error <= self.limit
    }
}

/// A comparison the order calls for that the readings do not allow.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Missing {
    /// What could not be compared.
    pub what: Quantity,
    /// Whose it is.
    pub eye: LineEye,
}

/// The verdict on a pair: every comparison, and those that lack a reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Report {
    /// Whether every line passes, whatever is missing ([`Report::missing`]).
    pub pass: bool,
    /// Each eye's powers (right first), the pair's prism, each eye's places, the heights' difference.
    pub lines: Vec<ToleranceLine>,
    /// The ordered values that have no reading.
    pub missing: Vec<Missing>,
}

impl Report {
    /// Returns the line of this kind for this eye, if it was tested.
    pub fn line(&self, what: Quantity, eye: LineEye) -> Option<&ToleranceLine> {
        self.lines.iter().find(|l| l.what == what && l.eye == eye)
    }
}
