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
        /// Power falling from near to the desk or the room.
        Office = "office" | "occupational",
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
        matches!(self, Self::Progressive | Self::Office)
    }

    /// The kind of lens under which a standard lists the design.
    pub const fn lens_kind(self) -> LensKind {
        match self {
            Self::SingleVision => LensKind::SingleVision,
            Self::Bifocal | Self::Trifocal => LensKind::Multifocal,
            Self::Progressive | Self::Office => LensKind::PowerVariation,
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
        FullWidth = "full-width" | "executive",
    }
}

words! {
    /// What the ordered powers are.
    PowersAs {
        /// The prescription.
        Prescribed = "prescribed",
        /// The prescription, which the laboratory compensates.
        LaboratoryCompensated = "laboratory compensated",
        /// Compensated for vertex distance.
        VertexCompensated = "vertex compensated",
        /// Compensated for vertex distance, tilt and face form.
        AsWornCompensated = "as worn compensated",
        /// The distance power with a sphere for the distance of a task.
        AdaptedToTheTask = "adapted to the task",
    }
}

impl PowersAs {
    /// Whether what is ordered is the prescription as it is written.
    pub const fn is_as_written(self) -> bool {
        matches!(self, Self::Prescribed | Self::LaboratoryCompensated)
    }
}

words! {
    /// The shape of a lens surface.
    LensForm {
        /// Spherical surfaces.
        Spherical = "spherical",
        /// An aspheric surface.
        Aspheric = "aspheric",
        /// Worked for how the lens sits before the eye.
        MadeForItsPosition = "made for its position",
    }
}

words! {
    /// How the laboratory supplies the lenses.
    Supply {
        /// Round, to be edged.
        Uncut = "uncut",
        /// Edged to the shape.
        Edged = "edged",
        /// Fitted into the frame.
        Fitted = "fitted",
    }
}

words! {
    /// Who compensates the powers for something.
    Compensator {
        /// Nobody.
        Nobody = "nobody",
        /// The practice: it is in the powers that are ordered.
        Practice = "practice",
        /// The laboratory: it is not in the powers that are ordered.
        Laboratory = "laboratory",
    }
}

record! {
    /// Who compensates the powers for what.
    pub struct Compensates {
        /// Who compensates for the vertex distance.
        vertex: Option<Compensator> = {
            label: "compensates vertex", kind: FieldKind::Choice(Compensator::WORDS), limits: Limits::OfKind,
            help: "who compensates the powers for the vertex distance: nobody, practice or laboratory",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Who compensates for the pantoscopic angle.
        tilt: Option<Compensator> = {
            label: "compensates tilt", kind: FieldKind::Choice(Compensator::WORDS), limits: Limits::OfKind,
            help: "who compensates the powers for the pantoscopic angle: nobody, practice or laboratory",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Who compensates for the face-form angle.
        face_form: Option<Compensator> = {
            label: "compensates face form", kind: FieldKind::Choice(Compensator::WORDS), limits: Limits::OfKind,
            help: "who compensates the powers for the face-form angle: nobody, practice or laboratory",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
    }
}

record! {
    /// Prism worked into the lower part of one lens, so that both eyes meet the same vertical prism there.
    pub struct PrismControl {
        /// The lens that has it.
        eye: Option<Eye> = {
            label: "prism control in", kind: FieldKind::Choice(&["right", "left"]), limits: Limits::OfKind,
            help: "the lens that has the prism control: right or left",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// How much, prism dioptres.
        amount_delta: Option<PrismDioptre> = {
            label: "prism control", kind: FieldKind::PrismSize, limits: Limits::Own(0.0, 15.0),
            help: "amount of the prism control, without a base, as 2",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// Height of its line above the lowest tangent, mm.
        line_height_mm: Option<Millimetre> = {
            label: "prism control line", kind: FieldKind::Length, limits: Limits::Own(0.0, 60.0),
            help: "height of the line above the lowest tangent of the lens shape, as 15",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
    }
}

record! {
    /// A segment.
    pub struct Segment {
        /// Shape.
        shape: Option<SegmentShape> = {
            label: "segment", kind: FieldKind::Choice(SegmentShape::WORDS), limits: Limits::OfKind,
            help: "round, flat top, curved top or full-width",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// Width, mm; of the right lens, where the left one has another.
        width_mm: Option<Millimetre> = {
            label: "segment width", kind: FieldKind::Length, limits: Limits::OfKind,
            help: "width of the segment, as 28",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// Width in the left lens where it is another, mm.
        left_width_mm: Option<Millimetre> = {
            label: "segment width left", kind: FieldKind::Length, limits: Limits::OfKind,
            help: "width of the segment in the left lens where it is another, as 45",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
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
        /// Whether the pair is for the sun.
        sun: Option<bool> = {
            label: "sun", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when the pair is for the sun, otherwise no",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// Whether it darkens in the light; the values above are of its light state.
        photochromic: Option<bool> = {
            label: "photochromic", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when the lenses darken in the light; transmittance and category are of the light state",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// Filter category of a photochromic lens at its darkest, 0 to 4.
        dark_category: Option<u8> = {
            label: "darkest category", kind: FieldKind::Category, limits: Limits::OfKind,
            help: "filter category of a photochromic lens at its darkest, 0 to 4",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
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
            help: "prescribed or laboratory compensated copies the prescription's powers into those below, where none is recorded; else vertex compensated, as worn compensated or adapted to the task",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Who worked them out, when they are not the prescription.
        by: Option<String> = {
            label: "powers by", kind: FieldKind::Staff, limits: Limits::OfKind,
            help: "who worked the powers out: a name of the staff list",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Never, remake: Remake::Not },
        },
        /// Distance of the task that they are adapted to, mm.
        distance_mm: Option<Millimetre> = {
            label: "task distance", kind: FieldKind::Length, limits: Limits::Own(100.0, 6000.0),
            help: "distance of the task the powers are adapted to, as 650",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Why they are adapted.
        because: Option<String> = {
            label: "adapted because", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "why the powers are adapted to a task",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
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
            help: "single vision, bifocal, trifocal, progressive or office",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// Who makes them.
        maker: Option<String> = {
            label: "lens maker", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "who makes the lenses",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// Their name.
        product: Option<String> = {
            label: "lens product", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "name of the lenses as the maker writes it",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// What of the product they are, where it has several.
        variant: Option<String> = {
            label: "lens variant", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "which of several kinds of the product",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// Shape of their surfaces.
        form: Option<LensForm> = {
            label: "lens form", kind: FieldKind::Choice(LensForm::WORDS), limits: Limits::OfKind,
            help: "spherical, aspheric or made for its position",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// How the laboratory supplies them.
        supply: Option<Supply> = {
            label: "supplied", kind: FieldKind::Choice(Supply::WORDS), limits: Limits::OfKind,
            help: "uncut, edged or fitted",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Finish of their edge, in words.
        edge_finish: Option<String> = {
            label: "edge finish", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "finish of the edge, as polished or bevelled",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// Office: furthest distance at which it is to be clear, mm.
        far_mm: Option<Millimetre> = {
            label: "furthest distance", kind: FieldKind::Length, limits: Limits::Own(300.0, 10000.0),
            help: "office lenses: the furthest distance that is to be clear, as 2000",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// Office: how much the power falls from near to the top, dioptres.
        power_drop_d: Option<Dioptre> = {
            label: "power drop", kind: FieldKind::Curve, limits: Limits::Own(0.0, 5.0),
            help: "office lenses: how much the power falls from near to the top, as 1.25",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Lens },
        },
        /// Single vision: how far the optical centres are ordered below the pupils, mm.
        lowered_mm: Option<Millimetre> = {
            label: "centres lowered", kind: FieldKind::Length, limits: Limits::Own(0.0, 15.0),
            help: "single vision: how far the optical centres are ordered below the pupils, as 3",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Height },
        },
        /// Who compensates the powers for what.
        compensates: Option<Compensates>,
        /// Prism control (slab-off).
        prism_control: Option<PrismControl>,
        /// Their impact mark, as ordered.
        impact_mark: Option<String> = {
            label: "lens impact mark", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "impact mark the lenses are ordered with, such as F; the letters S, F, C, D, E from weak to strong",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
        },
        /// The impact mark that the workplace asks of the pair.
        impact_asked: Option<String> = {
            label: "impact mark asked", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "impact mark that the workplace asks of the pair, such as F",
            shown: Shown::Listed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Not },
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
