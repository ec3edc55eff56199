//! The standards and their options; passes each question for a limit to the table of the standard.

use serde::{Deserialize, Serialize};

use super::lens_kind::LensKind;
use super::limit::Limit;
use super::{ansi_z80_1, iso_21987};

/// The standard a practice verifies finished spectacles against.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub enum Standard {
    /// ISO 21987:2017, mounted spectacle lenses.
    #[default]
    #[serde(rename = "ISO 21987:2017")]
    Iso21987_2017,
    /// ANSI Z80.1-2015, prescription spectacle lenses (recommendations).
    #[serde(rename = "ANSI Z80.1-2015")]
    AnsiZ80_1_2015,
}

impl Standard {
    /// Every standard known.
    pub const ALL: [Self; 2] = [Self::Iso21987_2017, Self::AnsiZ80_1_2015];

    /// The name written in files and on screens.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Iso21987_2017 => "ISO 21987:2017",
            Self::AnsiZ80_1_2015 => "ANSI Z80.1-2015",
        }
    }

    /// Returns the limit on the power of a meridian; `strongest_d` is the ordered principal power
    /// of larger size.
    pub fn power_limit(self, kind: LensKind, strongest_d: f64) -> Limit {
        match self {
            Self::Iso21987_2017 => iso_21987::power(kind, strongest_d),
            Self::AnsiZ80_1_2015 => ansi_z80_1::power(kind, strongest_d),
        }
    }

    /// Returns the limit on the size of the cylinder.
    pub fn cylinder_limit(self, kind: LensKind, strongest_d: f64, cylinder_d: f64) -> Limit {
        match self {
            Self::Iso21987_2017 => iso_21987::cylinder(kind, strongest_d, cylinder_d),
            Self::AnsiZ80_1_2015 => ansi_z80_1::cylinder(kind, cylinder_d),
        }
    }

    /// Returns the limit on the cylinder axis, degrees; none for cylinders under 0.12 D.
    pub fn axis_limit(self, cylinder_d: f64) -> Option<Limit> {
        match self {
            Self::Iso21987_2017 => iso_21987::axis(cylinder_d),
            Self::AnsiZ80_1_2015 => ansi_z80_1::axis(cylinder_d),
        }
    }

    /// Returns the limit on the addition.
    pub fn addition_limit(self, addition_d: f64) -> Limit {
        match self {
            Self::Iso21987_2017 => iso_21987::addition(addition_d),
            Self::AnsiZ80_1_2015 => ansi_z80_1::addition(addition_d),
        }
    }

    /// Returns the limit on the pair's horizontal prism, where the standard has one.
    ///
    /// `prescribed_delta`: the larger of the two eyes' ordered components; `along_d`: the power
    /// along the horizontal that decides (see [`PrismPower`]).
    pub fn horizontal_prism_limit(
        self,
        kind: LensKind,
        prescribed_delta: f64,
        along_d: f64,
    ) -> Option<Limit> {
        match self {
            Self::Iso21987_2017 => Some(iso_21987::horizontal_prism(prescribed_delta, along_d)),
            Self::AnsiZ80_1_2015 => ansi_z80_1::horizontal_prism(kind, along_d),
        }
    }

    /// Returns the limit on the pair's vertical prism; arguments as for the horizontal.
    pub fn vertical_prism_limit(self, prescribed_delta: f64, along_d: f64) -> Limit {
        match self {
            Self::Iso21987_2017 => iso_21987::vertical_prism(prescribed_delta, along_d),
            Self::AnsiZ80_1_2015 => ansi_z80_1::vertical_prism(along_d),
        }
    }

    /// Returns the limit on each centration distance, mm, where the standard has one.
    pub fn centration_limit(self, kind: LensKind, along_d: f64) -> Option<Limit> {
        match self {
            Self::Iso21987_2017 => iso_21987::centration(kind),
            Self::AnsiZ80_1_2015 => ansi_z80_1::centration(kind, along_d),
        }
    }

    /// Returns the limit on each height, mm, where the standard has one.
    pub fn height_limit(self, kind: LensKind) -> Option<Limit> {
        match self {
            Self::Iso21987_2017 => iso_21987::height(kind),
            Self::AnsiZ80_1_2015 => ansi_z80_1::height(kind),
        }
    }

    /// Returns the limit on the difference of the heights against the ordered difference, mm.
    pub fn height_difference_limit(self, kind: LensKind) -> Option<Limit> {
        match self {
            Self::Iso21987_2017 => iso_21987::height_difference(kind),
            Self::AnsiZ80_1_2015 => ansi_z80_1::height_difference(kind),
        }
    }

    /// Returns the limit on the tilt of a segment top or of the marking line, degrees.
    pub fn segment_tilt_limit(self) -> Limit {
        match self {
            Self::Iso21987_2017 => iso_21987::segment_tilt(),
            Self::AnsiZ80_1_2015 => ansi_z80_1::segment_tilt(),
        }
    }

    /// Returns the limit on the centre thickness when one was ordered, mm.
    pub fn centre_thickness_limit(self) -> Limit {
        match self {
            Self::Iso21987_2017 => iso_21987::centre_thickness(),
            Self::AnsiZ80_1_2015 => ansi_z80_1::centre_thickness(),
        }
    }

    /// Returns the limit on the base curve when one was ordered, dioptres.
    ///
    /// ISO 21987 has none; the figure is the usual agreement with a supplier.
    pub fn base_curve_limit(self) -> Limit {
        match self {
            Self::Iso21987_2017 => iso_21987::base_curve(),
            Self::AnsiZ80_1_2015 => ansi_z80_1::base_curve(),
        }
    }

    /// Whether both principal meridians are tested, or only the strongest.
    pub(crate) fn tests_both_meridians(self) -> bool {
        self == Self::Iso21987_2017
    }
}

/// Which lens of a pair gives the power that decides the prism limit.
///
/// The standards' public summaries do not settle it. The weaker lens gives the smaller limit: it
/// may reject a pair the other reading would pass, never the reverse.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum PrismPower {
    /// The lens of smaller power in the direction considered.
    #[default]
    Weaker,
    /// The lens of larger power in the direction considered.
    Stronger,
}

/// What a practice may choose about how a standard is applied.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Options {
    /// Which lens decides the prism limit.
    #[serde(default)]
    pub prism_power: PrismPower,
}
