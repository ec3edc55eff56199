//! The prescription as it was written, and the previous one beside it.

use chrono::NaiveDate;

use crate::job::fields::{Carry, FieldKind, Limits, PrismAxis, Remake, Rules, Shown, record};
use crate::trade::eye::Eye;
use crate::trade::optics::Rx;
use crate::trade::units::{Degree, Dioptre, Index, Millimetre, PrismDioptre, written_power};

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
    }
}

record! {
    /// What the prescriber wrote.
    pub struct Prescription {
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
