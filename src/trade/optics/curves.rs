//! Surface curves: radius, true power, and sag.
//!
//! Front curves are marked as the power they would have at the marking index 1.530, whatever the
//! lens is made of. Source: Jalie, The Principles of Ophthalmic Lenses (lens measure, sag formula,
//! curve variation factor).

use super::OpticsError;
use super::error::{check_index, finite};

/// The index at which front curves are marked and lens measures are divided.
pub(crate) const BASE_INDEX: f64 = 1.530;

/// Returns the radius in millimetres of a surface that has `power_d` at an index:
/// `1000 (n - 1) / F`; positive for a convex front.
///
/// # Errors
/// [`OpticsError::Impossible`] for a flat surface, which has no radius.
pub fn radius_mm(power_d: f64, index: f64) -> Result<f64, OpticsError> {
    check_index(index)?;
    if power_d.abs() < 1e-12 {
        return Err(OpticsError::impossible("a flat surface has no radius"));
    }
    finite(1000.0 * (index - 1.0) / power_d)
}

/// Returns the true power of a surface marked `marked_d` at `base_index` in a material of `index`,
/// dioptres: `F (n - 1) / (n0 - 1)`.
///
/// # Errors
/// [`OpticsError::OutOfRange`] for an index not above 1.
pub fn true_power_d(marked_d: f64, base_index: f64, index: f64) -> Result<f64, OpticsError> {
    check_index(base_index)?;
    check_index(index)?;
    finite(marked_d * (index - 1.0) / (base_index - 1.0))
}

/// Returns the curve variation factor, `(n0 - 1)/(n - 1)`: how much thinner than crown of index
/// `crown_index` a lens of the same power is, nearly.
///
/// # Errors
/// [`OpticsError::OutOfRange`] for an index not above 1.
pub fn curve_variation_factor(index: f64, crown_index: f64) -> Result<f64, OpticsError> {
    true_power_d(1.0, index, crown_index)
}

/// Returns the depth of a spherical surface of curvature `curvature_per_mm` at `radius_mm` from its
/// vertex, in millimetres: `r - sqrt(r^2 - y^2)`, written so that it holds for flat surfaces too.
///
/// # Errors
/// [`OpticsError::Impossible`] where the sphere does not reach that far.
pub fn sag_mm(curvature_per_mm: f64, radius_mm: f64) -> Result<f64, OpticsError> {
    sag_of_square(curvature_per_mm, radius_mm * radius_mm).ok_or_else(|| {
        OpticsError::impossible(format!(
            "a surface of radius {:.1} mm does not reach {:.1} mm from its vertex: choose a flatter curve or a smaller \
             lens",
            1.0 / curvature_per_mm.abs(),
            radius_mm.abs()
        ))
    })
}

/// The sag at a squared distance from the vertex, none where the sphere ends.
pub(super) fn sag_of_square(curvature: f64, square: f64) -> Option<f64> {
    let under_root = 1.0 - curvature * curvature * square;
    (under_root > 0.0).then(|| curvature * square / (1.0 + under_root.sqrt()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sag_of_a_sphere_is_exact() {
        assert!((sag_mm(1.0 / 50.0, 30.0).unwrap() - 10.0).abs() < 1e-12);
        assert!(sag_mm(1.0 / 50.0, 51.0).is_err());
        assert!(sag_mm(0.0, 30.0).unwrap().abs() < 1e-15);
    }

    #[test]
    fn a_marked_curve_is_stronger_in_a_higher_index() {
        assert!((true_power_d(5.0, BASE_INDEX, 1.586).unwrap() - 5.528_301_886_79).abs() < 1e-9);
    }
}
