//! The frame: its boxed measurements, what it is made of and what state it is in.

use super::words::words;
use crate::job::fields::{Carry, FieldKind, Limits, Remake, Rules, Shown, record};
use crate::trade::units::{Dioptre, Millimetre};

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

record! {
    /// The pads.
    pub struct Pads {
        /// How they are held.
        mount: Option<PadMount> = {
            label: "pads held by", kind: FieldKind::Choice(PadMount::WORDS), limits: Limits::OfKind,
            help: "screw, push, fixed or none",
            shown: Shown::Placed, rules: Rules::Pads { repair: true, remake: Remake::Frame },
        },
        /// Length, mm.
        size_mm: Option<Millimetre> = {
            label: "pad length", kind: FieldKind::Length, limits: Limits::Own(4.0, 40.0),
            help: "length of a pad, as 13",
            shown: Shown::Placed, rules: Rules::Pads { repair: true, remake: Remake::Frame },
        },
        /// Material.
        material: Option<PadMaterial> = {
            label: "pad material", kind: FieldKind::Choice(PadMaterial::WORDS), limits: Limits::OfKind,
            help: "silicone, hard plastic, titanium or other",
            shown: Shown::Placed, rules: Rules::Pads { repair: true, remake: Remake::Frame },
        },
    }
}

record! {
    /// The frame of a pair, in boxed measurements.
    pub struct Frame {
        /// Model name.
        name: Option<String> = {
            label: "frame", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "model name",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Frame },
        },
        /// Colour.
        colour: Option<String> = {
            label: "colour", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "colour as it is written on the frame",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Who makes it.
        maker: Option<String> = {
            label: "frame maker", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "who makes the frame",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Who supplies it.
        supplier: Option<String> = {
            label: "frame supplier", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "who supplies the frame",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Its identifier, such as the number of a bar code.
        identifier: Option<String> = {
            label: "frame identifier", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "identifier of the frame, such as the number under its bar code",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Its lot.
        lot: Option<String> = {
            label: "frame lot", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "lot of the frame as it is printed",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Whether it is the wearer's own.
        owned_by_wearer: Option<bool> = {
            label: "wearer's own", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when the wearer brought the frame, otherwise no",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Owner, remake: Remake::Not },
        },
        /// Boxed lens width, mm.
        a_mm: Option<Millimetre> = {
            label: "lens width a", kind: FieldKind::Length, limits: Limits::Own(15.0, 90.0),
            help: "boxed lens width, as 52",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Frame },
        },
        /// Boxed lens height, mm.
        b_mm: Option<Millimetre> = {
            label: "lens height b", kind: FieldKind::Length, limits: Limits::Own(10.0, 80.0),
            help: "boxed lens height, as 38",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Frame },
        },
        /// Effective diameter: twice the longest radius from the boxed centre, mm.
        ed_mm: Option<Millimetre> = {
            label: "effective diameter", kind: FieldKind::Length, limits: Limits::Own(15.0, 110.0),
            help: "twice the longest radius from the boxed centre, as 54.5",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Distance between lenses, mm.
        dbl_mm: Option<Millimetre> = {
            label: "between lenses", kind: FieldKind::Length, limits: Limits::Own(4.0, 45.0),
            help: "distance between lenses (DBL), as 18",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Frame },
        },
        /// Overall length of side, mm.
        side_mm: Option<Millimetre> = {
            label: "side", kind: FieldKind::Length, limits: Limits::ZeroOr(70.0, 220.0),
            help: "overall length of side, as 140; 0 for a frame without sides",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Frame },
        },
        /// Length to bend the side is made with, mm.
        length_to_bend_mm: Option<Millimetre> = {
            label: "made length to bend", kind: FieldKind::Length, limits: Limits::Own(50.0, 200.0),
            help: "length to bend the side is made with, as 95",
            shown: Shown::AlsoRecorded, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Frame },
        },
        /// Width of the front, mm.
        front_width_mm: Option<Millimetre> = {
            label: "front width", kind: FieldKind::Length, limits: Limits::Own(60.0, 220.0),
            help: "width of the front, as 138",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// What the front is made of.
        front_material: Option<FrameMaterial> = {
            label: "front material", kind: FieldKind::Choice(FrameMaterial::WORDS), limits: Limits::OfKind,
            help: "what the front is made of",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// What the sides are made of.
        side_material: Option<FrameMaterial> = {
            label: "side material", kind: FieldKind::Choice(FrameMaterial::WORDS), limits: Limits::OfKind,
            help: "what the sides are made of",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Whether it contains nickel.
        contains_nickel: Option<bool> = {
            label: "contains nickel", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes or no; leave empty when it is not known",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// What is known of nickel release.
        nickel_release: Option<NickelRelease> = {
            label: "nickel release", kind: FieldKind::Choice(NickelRelease::WORDS), limits: Limits::OfKind,
            help: "tested, worn through or unknown",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::LookAgain, remake: Remake::Not },
        },
        /// The rim.
        rim: Option<Rim> = {
            label: "rim", kind: FieldKind::Choice(Rim::WORDS), limits: Limits::OfKind,
            help: "full, half or rimless",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// The shape of the sides.
        side_shape: Option<SideShape> = {
            label: "side shape", kind: FieldKind::Choice(SideShape::WORDS), limits: Limits::OfKind,
            help: "straight or curved",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Curve of the front, dioptres at index 1.530.
        base_d: Option<Dioptre> = {
            label: "front curve", kind: FieldKind::Curve, limits: Limits::OfKind,
            help: "curve of the front, dioptres at index 1.530, as 4",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Its state.
        condition: Option<Condition> = {
            label: "condition", kind: FieldKind::Choice(Condition::WORDS), limits: Limits::OfKind,
            help: "new, sound, worn or cracked",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::LookAgain, remake: Remake::Not },
        },
        /// Whether it is certified against impact.
        impact_rated: Option<bool> = {
            label: "impact rated", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when the frame is certified against impact",
            shown: Shown::AlsoRecorded, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Its impact mark, as on the frame.
        impact_mark: Option<String> = {
            label: "frame impact mark", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "impact mark as it is on the frame, such as F; the letters S, F, C, D, E from weak to strong",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// The pads.
        pads: Option<Pads>,
    }
}
