//! The values that are compared: what was ordered, or what was read, for one eye.

use crate::trade::eye::PerEye;
use crate::trade::optics::power::Rx;

use super::limit::DUST;

/// Why a lens cannot be compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum ValueError {
    /// A value is not a finite number.
    #[error("a value is not a finite number: read it again")]
    NotFinite,
    /// There is a cylinder and no axis.
    #[error("there is a cylinder and no axis: give the axis, 1 to 180 degrees")]
    AxisMissing,
}

/// One lens as ordered or as read. Every value is optional except that a lens without a sphere is
/// no lens; an absent value is not compared.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct EyeValues {
    /// Sphere, dioptres.
    pub sphere_d: f64,
    /// Cylinder, dioptres, either sign; 0 for a sphere.
    pub cylinder_d: f64,
    /// TABO axis, degrees; needed when there is a cylinder.
    pub axis_deg: Option<f64>,
    /// Addition (variation power), dioptres.
    pub addition_d: Option<f64>,
    /// Prism, base in positive, prism dioptres.
    pub base_in_delta: Option<f64>,
    /// Prism, base up positive, prism dioptres.
    pub base_up_delta: Option<f64>,
    /// Monocular centration distance ordered, or where the centre or cross was found, mm.
    pub cd_mm: Option<f64>,
    /// Height ordered, or where the centre, cross or segment top was found, mm.
    pub height_mm: Option<f64>,
}

/// The values of a pair; an eye without a lens to compare is `None`.
pub type PairValues = PerEye<Option<EyeValues>>;

impl EyeValues {
    /// Returns the values of a lens of which only the power is known.
    pub fn of(power: Rx) -> Self {
        Self {
            sphere_d: power.sphere_d,
            cylinder_d: power.cylinder_d,
            axis_deg: Some(power.axis_deg),
            ..Self::default()
        }
    }

    /// Returns the power in minus-cylinder form, the form in which it is compared.
    ///
    /// # Errors
    /// [`ValueError`] for a value that is not a finite number or a cylinder without an axis.
    pub fn minus_form(&self) -> Result<Rx, ValueError> {
        let given = [
            Some(self.sphere_d),
            Some(self.cylinder_d),
            self.axis_deg,
            self.addition_d,
            self.base_in_delta,
            self.base_up_delta,
            self.cd_mm,
            self.height_mm,
        ];
        if given.into_iter().flatten().any(|v| !v.is_finite()) {
            return Err(ValueError::NotFinite);
        }
        if self.cylinder_d.abs() <= DUST {
            return Ok(Rx::sphere(self.sphere_d));
        }
        let axis_deg = self.axis_deg.ok_or(ValueError::AxisMissing)?;
        Ok(Rx::new(self.sphere_d, self.cylinder_d, axis_deg).minus_form())
    }

    /// Returns base in and base up, prism dioptres; an absent component is 0 where the other is given; `None` when
    /// neither is given.
    pub fn prism(&self) -> Option<(f64, f64)> {
        (self.base_in_delta.is_some() || self.base_up_delta.is_some()).then(|| {
            (
                self.base_in_delta.unwrap_or(0.0),
                self.base_up_delta.unwrap_or(0.0),
            )
        })
    }
}
