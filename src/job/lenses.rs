//! The lenses: purpose, design, material and the powers that are ordered.

use super::prescription::{eyes, written_rx};
use super::words::words;
use crate::job::fields::{Carry, FieldKind, Limits, PrismAxis, Remake, Rules, Shown, record};
use crate::trade::eye::Eye;
use crate::trade::optics::Rx;
use crate::trade::tolerance::LensKind;
use crate::trade::units::{Degree, Dioptre, Millimetre, Percent, PrismDioptre};

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

record! {
    /// A segment.
    pub struct Segment {
        /// Shape.
        shape: Option<SegmentShape> = {
            label: "segment", kind: FieldKind::Choice(SegmentShape::WORDS), limits: Limits::OfKind,
            help: "round, flat top, curved top or executive",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// Width, mm.
        width_mm: Option<Millimetre> = {
            label: "segment width", kind: FieldKind::Length, limits: Limits::OfKind,
            help: "width of the segment, as 28",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// From the top down to the segment's optical centre, mm.
        top_to_centre_mm: Option<Millimetre> = {
            label: "segment top to centre", kind: FieldKind::Length, limits: Limits::OfKind,
            help: "from the segment top down to its optical centre, as 5",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
    }
}

record! {
    /// A tint.
    pub struct Tint {
        /// Luminous transmittance, percent.
        transmittance_percent: Option<Percent> = {
            label: "transmittance", kind: FieldKind::Percent, limits: Limits::OfKind,
            help: "luminous transmittance of the tint, 0 to 100",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// Filter category, 0 to 4 (ISO 12312-1).
        category: Option<u8> = {
            label: "filter category", kind: FieldKind::Category, limits: Limits::OfKind,
            help: "filter category of the tint, 0 to 4",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// Colour.
        colour: Option<String> = {
            label: "tint colour", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "colour of the tint",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
    }
}

record! {
    /// One eye's power as ordered, stated or read.
    pub struct EyePower {
        /// Sphere, dioptres.
        sphere_d: Option<Dioptre> = {
            label: "sphere", kind: FieldKind::Reading, limits: Limits::OfKind,
            help: "sphere with its sign, as -2.25 or plano; a whole power may be typed: -2.25/-0.75x90",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Powers },
        },
        /// Cylinder, either sign, dioptres.
        cylinder_d: Option<Dioptre> = {
            label: "cylinder", kind: FieldKind::Reading, limits: Limits::Own(-20.0, 20.0),
            help: "cylinder with its sign, as -0.75",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Powers },
        },
        /// Axis, degrees.
        axis_deg: Option<Degree> = {
            label: "axis", kind: FieldKind::Axis, limits: Limits::OfKind,
            help: "axis of the cylinder, 1 to 180 degrees",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Powers },
        },
        /// Addition, dioptres.
        addition_d: Option<Dioptre> = {
            label: "addition", kind: FieldKind::Addition, limits: Limits::OfKind,
            help: "addition, as 2.00",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Powers },
        },
        /// Prism base in; base out is negative.
        base_in_delta: Option<PrismDioptre> = {
            label: "prism in/out", kind: FieldKind::Prism(PrismAxis::In), limits: Limits::OfKind,
            help: "horizontal prism with its base, as 2 in or 2 out",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Powers },
        },
        /// Prism base up; base down is negative.
        base_up_delta: Option<PrismDioptre> = {
            label: "prism up/down", kind: FieldKind::Prism(PrismAxis::Up), limits: Limits::OfKind,
            help: "vertical prism with its base, as 1.5 up or 1.5 down",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Powers },
        },
    }
}

impl EyePower {
    /// Returns the distance power, when there is a sphere.
    pub fn rx(&self) -> Option<Rx> {
        written_rx(self.sphere_d, self.cylinder_d, self.axis_deg)
    }
}

record! {
    /// The powers that are ordered.
    pub struct Powers {
        /// What they are.
        kind as "as": Option<PowersAs> = {
            label: "powers are", kind: FieldKind::Choice(PowersAs::WORDS), limits: Limits::OfKind,
            help: "prescribed copies the prescription's powers into those below, where none is recorded; else vertex compensated or as worn compensated",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Who worked them out, when they are not the prescription.
        by: Option<String> = {
            label: "powers by", kind: FieldKind::Staff, limits: Limits::OfKind,
            help: "who worked the powers out: a name of the staff list",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Never, remake: Remake::Not },
        },
        /// Right eye.
        right: EyePower,
        /// Left eye.
        left: EyePower,
    }
}

record! {
    /// What the laboratory says a focimeter should read.
    pub struct LaboratoryPowers {
        /// Right eye.
        right: EyePower,
        /// Left eye.
        left: EyePower,
    }
}

record! {
    /// The lenses of a pair.
    pub struct Lenses {
        /// What the pair is for.
        purpose: Option<Purpose> = {
            label: "purpose", kind: FieldKind::Choice(Purpose::WORDS), limits: Limits::OfKind,
            help: "what the pair is for",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// Design.
        design: Option<Design> = {
            label: "design", kind: FieldKind::Choice(Design::WORDS), limits: Limits::OfKind,
            help: "single vision, bifocal, trifocal, progressive or occupational",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// Segment.
        segment: Option<Segment>,
        /// Corridor length of a power-variation design, mm.
        corridor_mm: Option<Millimetre> = {
            label: "corridor", kind: FieldKind::Length, limits: Limits::Own(3.0, 40.0),
            help: "corridor length of the progressive design, as 14",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// The least fitting height the design allows, mm.
        minimum_height_mm: Option<Millimetre> = {
            label: "least fitting height", kind: FieldKind::Length, limits: Limits::OfKind,
            help: "the least fitting height the design allows, as 18",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Material: a key of the materials table.
        material: Option<String> = {
            label: "material", kind: FieldKind::Material, limits: Limits::OfKind,
            help: "a material of the table, such as resin 1.60; r 1.60 is enough, or the index when only one has it",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// Coatings.
        coatings: Option<Vec<String>> = {
            label: "coatings", kind: FieldKind::Words, limits: Limits::OfKind,
            help: "coatings, comma separated (hard, anti-reflection); none when there are none",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// Tint.
        tint: Option<Tint>,
        /// Front curve, dioptres at index 1.530.
        base_d: Option<Dioptre> = {
            label: "base curve", kind: FieldKind::Curve, limits: Limits::OfKind,
            help: "front curve, dioptres at index 1.530, as 6",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// Centre thickness ordered, mm.
        centre_mm: Option<Millimetre> = {
            label: "centre thickness", kind: FieldKind::Length, limits: Limits::Own(0.3, 40.0),
            help: "centre thickness ordered, as 2",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Least thickness ordered, mm.
        thinnest_mm: Option<Millimetre> = {
            label: "least thickness", kind: FieldKind::Length, limits: Limits::Own(0.3, 40.0),
            help: "least thickness ordered, as 1.2",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Diameter of the uncut lens, mm.
        blank_mm: Option<Millimetre> = {
            label: "uncut diameter", kind: FieldKind::Length, limits: Limits::Own(30.0, 110.0),
            help: "diameter of the uncut lens, as 65",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Prism ordered for thinness in both lenses, base up; down is negative.
        thinning_prism_up_delta: Option<PrismDioptre> = {
            label: "thinning prism", kind: FieldKind::Prism(PrismAxis::Up), limits: Limits::OfKind,
            help: "prism for thinness in both lenses with its base, as 1.5 down",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// The powers that are ordered.
        powers: Option<Powers>,
        /// What the laboratory says a focimeter should read.
        laboratory_powers: Option<LaboratoryPowers>,
    }
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
