//! The lenses: purpose, design, material and the powers that are ordered.

use serde::{Deserialize, Serialize};

use super::prescription::{eyes, written_rx};
use super::words::words;
use crate::eye::Eye;
use crate::optics::Rx;
use crate::tolerance::LensKind;
use crate::units::{Degree, Dioptre, Millimetre, Percent, PrismDioptre};

words! {
    /// What a pair is for.
    Purpose {
        /// Distance only.
        Distance = "distance",
        /// Near only.
        Near = "near",
        /// Intermediate only.
        Intermediate = "intermediate",
        /// All day.
        General = "general",
        /// Protection at work.
        Safety = "safety",
        /// Sport.
        Sport = "sport",
    }
}

words! {
    /// The design of a lens.
    Design {
        /// One power.
        SingleVision = "single vision",
        /// Two powers.
        Bifocal = "bifocal",
        /// Three powers.
        Trifocal = "trifocal",
        /// Power rising from distance to near.
        Progressive = "progressive",
        /// Power rising from the desk to near.
        Occupational = "occupational",
    }
}

impl Design {
    /// Whether the lens needs an addition.
    pub const fn needs_addition(self) -> bool {
        !matches!(self, Self::SingleVision)
    }

    /// Whether the near power is a segment with a visible edge.
    pub const fn has_segment(self) -> bool {
        matches!(self, Self::Bifocal | Self::Trifocal)
    }

    /// Whether the power varies continuously (progressive and degressive designs).
    pub const fn is_power_variation(self) -> bool {
        matches!(self, Self::Progressive | Self::Occupational)
    }

    /// The kind of lens under which a standard lists the design.
    pub const fn lens_kind(self) -> LensKind {
        match self {
            Self::SingleVision => LensKind::SingleVision,
            Self::Bifocal | Self::Trifocal => LensKind::Multifocal,
            Self::Progressive | Self::Occupational => LensKind::PowerVariation,
        }
    }
}

words! {
    /// The shape of a segment.
    SegmentShape {
        /// Round.
        Round = "round",
        /// Flat top.
        FlatTop = "flat top",
        /// Curved top.
        CurvedTop = "curved top",
        /// Full width.
        Executive = "executive",
    }
}

words! {
    /// What the ordered powers are.
    PowersAs {
        /// The prescription.
        Prescribed = "prescribed",
        /// Compensated for vertex distance.
        VertexCompensated = "vertex compensated",
        /// Compensated for vertex distance, tilt and face form.
        AsWornCompensated = "as worn compensated",
    }
}

/// A segment.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Segment {
    /// Shape.
    pub shape: Option<SegmentShape>,
    /// Width, mm.
    pub width_mm: Option<Millimetre>,
    /// From the top down to the segment's optical centre, mm.
    pub top_to_centre_mm: Option<Millimetre>,
}

/// A tint.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Tint {
    /// Luminous transmittance, percent.
    pub transmittance_percent: Option<Percent>,
    /// Filter category, 0 to 4 (ISO 12312-1).
    pub category: Option<u8>,
    /// Colour.
    pub colour: Option<String>,
}

/// One eye's power as ordered, stated or read.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct EyePower {
    /// Sphere, dioptres.
    pub sphere_d: Option<Dioptre>,
    /// Cylinder, either sign, dioptres.
    pub cylinder_d: Option<Dioptre>,
    /// Axis, degrees.
    pub axis_deg: Option<Degree>,
    /// Addition, dioptres.
    pub addition_d: Option<Dioptre>,
    /// Prism base in; base out is negative.
    pub base_in_delta: Option<PrismDioptre>,
    /// Prism base up; base down is negative.
    pub base_up_delta: Option<PrismDioptre>,
}

impl EyePower {
    /// Returns the distance power, when there is a sphere.
    pub fn rx(&self) -> Option<Rx> {
        written_rx(self.sphere_d, self.cylinder_d, self.axis_deg)
    }
}

/// The powers that are ordered.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Powers {
    /// What they are.
    #[serde(rename = "as")]
    pub kind: Option<PowersAs>,
    /// Who worked them out, when they are not the prescription.
    pub by: Option<String>,
    /// Right eye.
    pub right: EyePower,
    /// Left eye.
    pub left: EyePower,
}

/// What the laboratory says a focimeter should read.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct LaboratoryPowers {
    /// Right eye.
    pub right: EyePower,
    /// Left eye.
    pub left: EyePower,
}

/// The lenses of a pair.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Lenses {
    /// What the pair is for.
    pub purpose: Option<Purpose>,
    /// Design.
    pub design: Option<Design>,
    /// Segment.
    pub segment: Option<Segment>,
    /// Corridor length of a power-variation design, mm.
    pub corridor_mm: Option<Millimetre>,
    /// The least fitting height the design allows, mm.
    pub minimum_height_mm: Option<Millimetre>,
    /// Material: a key of the materials table.
    pub material: Option<String>,
    /// Coatings.
    pub coatings: Option<Vec<String>>,
    /// Tint.
    pub tint: Option<Tint>,
    /// Front curve, dioptres at index 1.530.
    pub base_d: Option<Dioptre>,
    /// Centre thickness ordered, mm.
    pub centre_mm: Option<Millimetre>,
    /// Least thickness ordered, mm.
    pub thinnest_mm: Option<Millimetre>,
    /// Diameter of the uncut lens, mm.
    pub blank_mm: Option<Millimetre>,
    /// Prism ordered for thinness in both lenses, base up; down is negative.
    pub thinning_prism_up_delta: Option<PrismDioptre>,
    /// The powers that are ordered.
    pub powers: Option<Powers>,
    /// What the laboratory says a focimeter should read.
    pub laboratory_powers: Option<LaboratoryPowers>,
}

eyes!(Powers, EyePower);
eyes!(LaboratoryPowers, EyePower);

impl Lenses {
    /// What the ordered powers are, when that is said.
    pub fn powers_as(&self) -> Option<PowersAs> {
        self.powers.as_ref().and_then(|p| p.kind)
    }

    /// Whether the pair is a single-vision pair for near.
    pub fn is_near_single_vision(&self) -> bool {
        self.design == Some(Design::SingleVision) && self.purpose == Some(Purpose::Near)
    }
}
