//! The frame: its boxed measurements, what it is made of and what state it is in.

use serde::{Deserialize, Serialize};

use super::words::words;
use crate::units::{Dioptre, Millimetre};

words! {
    /// What a front or side is made of.
    FrameMaterial {
        /// Cellulose acetate.
        Acetate = "acetate",
        /// Cellulose propionate.
        Propionate = "propionate",
        /// Polyamide.
        Nylon = "nylon",
        /// Titanium.
        Titanium = "titanium",
        /// Beta titanium.
        BetaTitanium = "beta titanium",
        /// Stainless steel.
        StainlessSteel = "stainless steel",
        /// An alloy that contains nickel.
        NickelAlloy = "nickel alloy",
        /// Aluminium.
        Aluminium = "aluminium",
        /// Wood.
        Wood = "wood",
        /// Horn.
        Horn = "horn",
        /// Something else, or not known.
        Other = "other",
    }
}

impl FrameMaterial {
    /// Whether the material is a metal whose nickel content must be known for a nickel allergy.
    pub const fn is_metal(self) -> bool {
        matches!(
            self,
            Self::Titanium
                | Self::BetaTitanium
                | Self::StainlessSteel
                | Self::NickelAlloy
                | Self::Aluminium
        )
    }
}

words! {
    /// What is known of nickel release.
    NickelRelease {
        /// Tested within the limit.
        Tested = "tested",
        /// The coating is worn through.
        WornThrough = "worn through",
        /// Not known.
        Unknown = "unknown",
    }
}

words! {
    /// How the rim holds the lens.
    Rim {
        /// All round.
        Full = "full",
        /// Half.
        Half = "half",
        /// Not at all.
        Rimless = "rimless",
    }
}

words! {
    /// The shape of a side towards the ear.
    SideShape {
        /// Straight to the bend.
        Straight = "straight",
        /// Bowed.
        Curved = "curved",
    }
}

words! {
    /// The state of a frame.
    Condition {
        /// Never worn.
        New = "new",
        /// Worn but sound.
        Sound = "sound",
        /// Worn.
        Worn = "worn",
        /// Cracked.
        Cracked = "cracked",
    }
}

words! {
    /// How the pads are held.
    PadMount {
        /// By a screw.
        Screw = "screw",
        /// Pushed in.
        Push = "push",
        /// Part of the front.
        Fixed = "fixed",
        /// None.
        None = "none",
    }
}

words! {
    /// What the pads are made of.
    PadMaterial {
        /// Silicone.
        Silicone = "silicone",
        /// Hard plastic.
        HardPlastic = "hard plastic",
        /// Titanium.
        Titanium = "titanium",
        /// Something else.
        Other = "other",
    }
}

/// The pads.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Pads {
    /// How they are held.
    pub mount: Option<PadMount>,
    /// Length, mm.
    pub size_mm: Option<Millimetre>,
    /// Material.
    pub material: Option<PadMaterial>,
}

/// The frame of a pair, in boxed measurements.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Frame {
    /// Model name.
    pub name: Option<String>,
    /// Colour.
    pub colour: Option<String>,
    /// Whether it is the wearer's own.
    pub owned_by_wearer: Option<bool>,
    /// Boxed lens width, mm.
    pub a_mm: Option<Millimetre>,
    /// Boxed lens height, mm.
    pub b_mm: Option<Millimetre>,
    /// Effective diameter: twice the longest radius from the boxed centre, mm.
    pub ed_mm: Option<Millimetre>,
    /// Distance between lenses, mm.
    pub dbl_mm: Option<Millimetre>,
    /// Overall length of side, mm.
    pub side_mm: Option<Millimetre>,
    /// Length to bend the side is made with, mm.
    pub length_to_bend_mm: Option<Millimetre>,
    /// Width of the front, mm.
    pub front_width_mm: Option<Millimetre>,
    /// What the front is made of.
    pub front_material: Option<FrameMaterial>,
    /// What the sides are made of.
    pub side_material: Option<FrameMaterial>,
    /// Whether it contains nickel.
    pub contains_nickel: Option<bool>,
    /// What is known of nickel release.
    pub nickel_release: Option<NickelRelease>,
    /// The rim.
    pub rim: Option<Rim>,
    /// The shape of the sides.
    pub side_shape: Option<SideShape>,
    /// Curve of the front, dioptres at index 1.530.
    pub base_d: Option<Dioptre>,
    /// Its state.
    pub condition: Option<Condition>,
    /// Whether it is certified against impact.
    pub impact_rated: Option<bool>,
    /// The pads.
    pub pads: Option<Pads>,
}
