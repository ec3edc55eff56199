//! Spectacle magnification: how much larger a lens makes the image than the naked eye's.
//!
//! Source: Bennett and Rabbetts, Clinical Visual Optics; Jalie, Ophthalmic Lenses and Dispensing.
//! The power factor is taken to the entrance pupil; texts that stop at the cornea leave `pupil_mm`
//! at 0.

use super::back_vertex::through_thickness_d;
use super::{OpticsError, Rx};

/// Usual distance from the cornea to the entrance pupil, in millimetres.
pub(crate) const PUPIL_MM: f64 = 3.0;

/// Magnification in one principal meridian.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeridianMagnification {
    /// Power factor, `1 / (1 - h F)`.
    pub power: f64,
    /// Shape factor times power factor.
    pub total: f64,
    /// The total as a percentage more than 1.
    pub percent: f64,
}

/// Magnification of a lens as worn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Magnification {
    /// Shape factor, `1 / (1 - (t/n) F1)`.
    pub shape: f64,
    /// Along the axis, where the power is the sphere.
    pub along_axis: MeridianMagnification,
    /// Across the axis, where the power is sphere and cylinder.
    pub across_axis: MeridianMagnification,
}

/// The form of a lens and its distance from the eye.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WornForm {
    /// Refractive index.
    pub index: f64,
    /// True power of the front surface, dioptres.
    pub front_d: f64,
    /// Centre thickness, mm.
    pub centre_mm: f64,
    /// Back vertex to cornea, mm.
    pub vertex_mm: f64,
    /// Cornea to entrance pupil, mm ([`PUPIL_MM`]).
    pub pupil_mm: f64,
}

/// Returns the magnification of a lens of back vertex power `rx`.
///
/// # Errors
/// [`OpticsError::Impossible`] when a focus lies inside the lens or before the entrance pupil.
pub fn magnification(rx: Rx, form: WornForm) -> Result<Magnification, OpticsError> {
    through_thickness_d(form.front_d, form.centre_mm, form.index)?;
    let shape = 1.0 / (1.0 - form.centre_mm / 1000.0 / form.index * form.front_d);
    let h_mm = form.vertex_mm + form.pupil_mm;
    let (along, across) = rx.principal_powers();
    Ok(Magnification {
        shape,
        along_axis: in_meridian(shape, h_mm, along)?,
        across_axis: in_meridian(shape, h_mm, across)?,
    })
}

fn in_meridian(shape: f64, h_mm: f64, power_d: f64) -> Result<MeridianMagnification, OpticsError> {
    let divisor = 1.0 - h_mm / 1000.0 * power_d;
    if divisor <= 1e-9 || !divisor.is_finite() {
        return Err(OpticsError::impossible(format!(
            "a lens of {power_d:+.2} D at {h_mm:.1} mm has its focus at or before the pupil: check the power and the \
             distance"
        )));
    }
    let power = 1.0 / divisor;
    let total = shape * power;
    Ok(MeridianMagnification {
        power,
        total,
        percent: (total - 1.0) * 100.0,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thin_plano_magnifies_nothing() {
        let form = WornForm {
            index: 1.5,
            front_d: 0.0,
            centre_mm: 2.0,
            vertex_mm: 12.0,
            pupil_mm: PUPIL_MM,
        };
        let m = magnification(Rx::sphere(0.0), form).unwrap();
        assert!(m.along_axis.percent.abs() < 1e-12 && (m.shape - 1.0).abs() < 1e-12);
    }
}
