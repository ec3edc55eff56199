//! The prescription as it was written, and the previous one beside it.

use chrono::NaiveDate;

use super::words::{current_word, words};
use crate::job::fields::{Carry, FieldKind, Limits, PrismAxis, Remake, Rules, Shown, record};
use crate::trade::eye::Eye;
use crate::trade::optics::Rx;
use crate::trade::units::{Degree, Dioptre, Index, Millimetre, PrismDioptre, written_power};

words! {
    /// Where a prescription comes from.
    PrescriptionKind {
        /// A sight test; also where nothing is said.
        SightTest = "sight test",
        /// The powers of a pair that is worn, read with a focimeter.
        Copied = "copied from worn pair",
    }
}

record! {
    /// One eye's prescription.
    pub struct EyePrescription {
        /// Sphere, exact eighths of a dioptre.
        #[serde(deserialize_with = "written_power")]
        sphere_d: Option<Dioptre> = {
            label: "sphere", kind: FieldKind::Power, limits: Limits::OfKind,
            help: "sphere with its sign, as -2.25 or plano; a whole prescription may be typed: -2.25/-0.75x90",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Cylinder, either sign, exact eighths.
        #[serde(deserialize_with = "written_power")]
        cylinder_d: Option<Dioptre> = {
            label: "cylinder", kind: FieldKind::Power, limits: Limits::Own(-20.0, 20.0),
            help: "cylinder with its sign, as -0.75; either form",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Axis in whole degrees, 1 to 180.
        axis_deg: Option<Degree> = {
            label: "axis", kind: FieldKind::Axis, limits: Limits::OfKind,
            help: "axis of the cylinder in whole degrees, 1 to 180",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Reading addition, exact eighths.
        #[serde(deserialize_with = "written_power")]
        addition_d: Option<Dioptre> = {
            label: "addition", kind: FieldKind::Addition, limits: Limits::OfKind,
            help: "reading addition, as 2.00",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Prism base in; base out is negative.
        base_in_delta: Option<PrismDioptre> = {
            label: "prism in/out", kind: FieldKind::Prism(PrismAxis::In), limits: Limits::OfKind,
            help: "horizontal prism with its base, as 2 in or 2 out",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Prism base up; base down is negative.
        base_up_delta: Option<PrismDioptre> = {
            label: "prism up/down", kind: FieldKind::Prism(PrismAxis::Up), limits: Limits::OfKind,
            help: "vertical prism with its base, as 1.5 up or 1.5 down",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Addition for the intermediate distance, exact eighths.
        #[serde(deserialize_with = "written_power")]
        intermediate_addition_d: Option<Dioptre> = {
            label: "intermediate addition", kind: FieldKind::Addition, limits: Limits::OfKind,
            help: "addition for the intermediate distance, as 1.25; not above the reading addition",
            shown: Shown::Listed, rules: Rules::Carried(Carry::Kept),
        },
        /// Prism for near where it differs, base in; base out is negative.
        near_base_in_delta: Option<PrismDioptre> = {
            label: "near prism in/out", kind: FieldKind::Prism(PrismAxis::In), limits: Limits::OfKind,
            help: "horizontal prism for near with its base, where it differs: 2 in or 2 out",
            shown: Shown::Listed, rules: Rules::Carried(Carry::Kept),
        },
        /// Prism for near where it differs, base up; base down is negative.
        near_base_up_delta: Option<PrismDioptre> = {
            label: "near prism up/down", kind: FieldKind::Prism(PrismAxis::Up), limits: Limits::OfKind,
            help: "vertical prism for near with its base, where it differs: 1.5 up or 1.5 down",
            shown: Shown::Listed, rules: Rules::Carried(Carry::Kept),
        },
        /// The lens only balances the other in weight and look; it needs no power of its own.
        balance: Option<bool> = {
            label: "balance lens", kind: FieldKind::Flag, limits: Limits::OfKind,
            help: "yes when the lens only balances the other in weight and look",
            shown: Shown::Placed, rules: Rules::Ordered { carry: Carry::Kept, remake: Remake::Powers },
        },
        /// Acuity as written.
        acuity: Option<String> = {
            label: "acuity", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "acuity with this lens as it is written: 6/6, 20/20, 0.8 or logMAR 0.1",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
    }
}

record! {
    /// The pair worn until now.
    pub struct Previous {
        /// Right eye.
        right: EyePrescription,
        /// Left eye.
        left: EyePrescription,
        /// Vertex distance it was worn at, mm.
        vertex_mm: Option<Millimetre> = {
            label: "previous vertex", kind: FieldKind::Length, limits: Limits::Own(2.0, 40.0),
            help: "vertex distance the previous pair is worn at, as 12",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Front curve, dioptres at index 1.530.
        base_d: Option<Dioptre> = {
            label: "previous base", kind: FieldKind::Curve, limits: Limits::OfKind,
            help: "front curve of the previous pair, dioptres at index 1.530, as 6",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Refractive index of its lenses.
        index: Option<Index> = {
            label: "previous index", kind: FieldKind::Index, limits: Limits::OfKind,
            help: "refractive index of the previous lenses, as 1.6",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Its design.
        design: Option<String> = {
            label: "previous design", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "design of the previous lenses",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Pantoscopic angle it is worn at, degrees.
        pantoscopic_deg: Option<Degree> = {
            label: "previous pantoscopic", kind: FieldKind::Angle, limits: Limits::Own(-30.0, 60.0),
            help: "pantoscopic angle the previous pair is worn at, bottom of the rim nearer the cheek is positive, as 8",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Face-form angle it is worn at, degrees.
        face_form_deg: Option<Degree> = {
            label: "previous face form", kind: FieldKind::Angle, limits: Limits::Own(-30.0, 60.0),
            help: "face-form angle the previous pair is worn at, as 5",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Right centration distance, mm.
        right_cd_mm: Option<Millimetre> = {
            label: "previous centration", kind: FieldKind::Length, limits: Limits::Own(15.0, 45.0),
            help: "centration distance of the previous pair from the middle of the bridge, as 31.5",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Left centration distance, mm.
        left_cd_mm: Option<Millimetre> = {
            label: "previous centration", kind: FieldKind::Length, limits: Limits::Own(15.0, 45.0),
            help: "centration distance of the previous pair from the middle of the bridge, as 31.5",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Right fitting height, mm.
        right_height_mm: Option<Millimetre> = {
            label: "previous height", kind: FieldKind::Length, limits: Limits::Own(2.0, 60.0),
            help: "height of the fitting cross or optical centre of the previous pair above the lowest tangent, as 20",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Left fitting height, mm.
        left_height_mm: Option<Millimetre> = {
            label: "previous height", kind: FieldKind::Length, limits: Limits::Own(2.0, 60.0),
            help: "height of the fitting cross or optical centre of the previous pair above the lowest tangent, as 20",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Who made its lenses.
        maker: Option<String> = {
            label: "previous maker", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "who made the previous lenses",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Name of its lenses.
        product: Option<String> = {
            label: "previous product", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "name of the previous lenses",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Corridor length of its lenses, mm.
        corridor_mm: Option<Millimetre> = {
            label: "previous corridor", kind: FieldKind::Length, limits: Limits::Own(3.0, 40.0),
            help: "corridor length of the previous lenses, as 14",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Coatings of its lenses.
        coatings: Option<Vec<String>> = {
            label: "previous coatings", kind: FieldKind::Words, limits: Limits::OfKind,
            help: "coatings of the previous lenses, comma separated; none when there are none",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Tint of its lenses.
        tint: Option<String> = {
            label: "previous tint", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "tint of the previous lenses, in words",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
    }
}

record! {
    /// What the prescriber wrote.
    pub struct Prescription {
        /// Where it comes from; a sight test where nothing is said.
        kind: Option<PrescriptionKind> = {
            label: "comes from", kind: FieldKind::Choice(PrescriptionKind::WORDS), limits: Limits::OfKind,
            help: "sight test, or copied from worn pair",
            shown: Shown::Listed, rules: Rules::Carried(Carry::Kept),
        },
        /// Who copied the powers of a worn pair (a name of the staff list).
        copied_by: Option<String> = {
            label: "copied by", kind: FieldKind::Staff, limits: Limits::OfKind,
            help: "who read the powers of the worn pair: a name of the staff list",
            shown: Shown::Listed, rules: Rules::Carried(Carry::Kept),
        },
        /// Why they were copied.
        copied_because: Option<String> = {
            label: "copied because", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "why the powers of a worn pair are used instead of a sight test",
            shown: Shown::Listed, rules: Rules::Carried(Carry::Kept),
        },
        /// Day of the sight test.
        tested_on: Option<NaiveDate> = {
            label: "tested", kind: FieldKind::Date, limits: Limits::OfKind,
            help: "day of the sight test: 2026-12-03, 3/12/2026, today",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Last day of validity, where the prescriber gave one.
        expires_on: Option<NaiveDate> = {
            label: "valid until", kind: FieldKind::Date, limits: Limits::OfKind,
            help: "last day of validity, where the prescriber gave one",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Who prescribed.
        prescriber: Option<String> = {
            label: "prescriber", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "who prescribed",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// The prescriber's registration.
        prescriber_registration: Option<String> = {
            label: "registration", kind: FieldKind::Text, limits: Limits::OfKind,
            help: "the prescriber's registration number",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Back vertex distance at which the powers were tested, mm.
        tested_vertex_mm: Option<Millimetre> = {
            label: "tested at vertex", kind: FieldKind::Length, limits: Limits::Own(2.0, 40.0),
            help: "back vertex distance at which the powers were tested, as 12",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Working distance of the near task, from the object to the spectacle plane, mm.
        working_mm: Option<Millimetre> = {
            label: "working distance", kind: FieldKind::Length, limits: Limits::Own(100.0, 2000.0),
            help: "from the near task to the spectacle plane, as 400",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Anything else.
        notes: Option<String> = {
            label: "notes", kind: FieldKind::Notes, limits: Limits::OfKind,
            help: "anything else the prescriber wrote",
            shown: Shown::Placed, rules: Rules::Carried(Carry::Kept),
        },
        /// Right eye.
        right: EyePrescription,
        /// Left eye.
        left: EyePrescription,
        /// The pair worn until now.
        previous: Option<Previous>,
    }
}

impl Prescription {
    /// Whether the powers were copied from a worn pair.
    pub fn is_copied(&self) -> bool {
        self.kind == Some(PrescriptionKind::Copied)
    }
}

impl Previous {
    /// Returns the centration distance of an eye, mm.
    pub const fn cd_mm(&self, eye: Eye) -> Option<Millimetre> {
        match eye {
            Eye::Right => self.right_cd_mm,
            Eye::Left => self.left_cd_mm,
        }
    }

    /// Returns the design as it is written now, in small letters; empty where none is recorded.
    pub fn design_word(&self) -> String {
        let written = self.design.as_deref().unwrap_or_default();
        current_word(&written.trim().to_lowercase()).to_owned()
    }
}

impl EyePrescription {
    /// Returns the distance power, when there is a sphere; half a cylinder (no axis) counts as none.
    pub fn rx(&self) -> Option<Rx> {
        written_rx(self.sphere_d, self.cylinder_d, self.axis_deg)
    }

    /// Whether the lens is a balance lens.
    pub fn is_balance(&self) -> bool {
        self.balance == Some(true)
    }
}

/// Returns the power that sphere, cylinder and axis stand for together.
pub(crate) fn written_rx(
    sphere: Option<Dioptre>,
    cylinder: Option<Dioptre>,
    axis: Option<Degree>,
) -> Option<Rx> {
    let sphere = sphere?.get();
    Some(match (cylinder, axis) {
        (Some(c), Some(a)) => Rx::new(sphere, c.get(), a.get()),
        _ => Rx::sphere(sphere),
    })
}

macro_rules! eyes {
    ($section:ty, $eye:ty) => {
        impl $section {
            /// Returns one eye's part.
            pub fn eye(&self, eye: Eye) -> &$eye {
                match eye {
                    Eye::Right => &self.right,
                    Eye::Left => &self.left,
                }
            }
        }
    };
}
pub(crate) use eyes;

eyes!(Prescription, EyePrescription);
eyes!(Previous, EyePrescription);
