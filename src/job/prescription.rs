//! The prescription as it was written, and the previous one beside it.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use crate::eye::Eye;
use crate::optics::Rx;
use crate::units::{Degree, Dioptre, Index, Millimetre, PrismDioptre, written_power};

/// One eye's prescription.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct EyePrescription {
    /// Sphere, exact eighths of a dioptre.
    #[serde(deserialize_with = "written_power")]
    pub sphere_d: Option<Dioptre>,
    /// Cylinder, either sign, exact eighths.
    #[serde(deserialize_with = "written_power")]
    pub cylinder_d: Option<Dioptre>,
    /// Axis in whole degrees, 1 to 180.
    pub axis_deg: Option<Degree>,
    /// Reading addition, exact eighths.
    #[serde(deserialize_with = "written_power")]
    pub addition_d: Option<Dioptre>,
    /// Prism base in; base out is negative.
    pub base_in_delta: Option<PrismDioptre>,
    /// Prism base up; base down is negative.
    pub base_up_delta: Option<PrismDioptre>,
    /// The lens only balances the other in weight and look; it needs no power of its own.
    pub balance: Option<bool>,
    /// Acuity as written.
    pub acuity: Option<String>,
}

/// The pair worn until now.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Previous {
    /// Right eye.
    pub right: EyePrescription,
    /// Left eye.
    pub left: EyePrescription,
    /// Vertex distance it was worn at, mm.
    pub vertex_mm: Option<Millimetre>,
    /// Front curve, dioptres at index 1.530.
    pub base_d: Option<Dioptre>,
    /// Refractive index of its lenses.
    pub index: Option<Index>,
    /// Its design.
    pub design: Option<String>,
    /// Right centration distance, mm.
    pub right_cd_mm: Option<Millimetre>,
    /// Left centration distance, mm.
    pub left_cd_mm: Option<Millimetre>,
}

/// What the prescriber wrote.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Prescription {
    /// Day of the sight test.
    pub tested_on: Option<NaiveDate>,
    /// Last day of validity, where the prescriber gave one.
    pub expires_on: Option<NaiveDate>,
    /// Who prescribed.
    pub prescriber: Option<String>,
    /// The prescriber's registration.
    pub prescriber_registration: Option<String>,
    /// Back vertex distance at which the powers were tested, mm.
    pub tested_vertex_mm: Option<Millimetre>,
    /// Working distance of the near task, from the object to the spectacle plane, mm.
    pub working_mm: Option<Millimetre>,
    /// Anything else.
    pub notes: Option<String>,
    /// Right eye.
    pub right: EyePrescription,
    /// Left eye.
    pub left: EyePrescription,
    /// The pair worn until now.
    pub previous: Option<Previous>,
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
