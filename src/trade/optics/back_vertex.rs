//! The powers of a thick lens from its surfaces.
//!
//! Sources: Jalie, The Principles of Ophthalmic Lenses; Bennett and Rabbetts, Clinical Visual Optics.

use super::OpticsError;
use super::error::{check_index, finite, within};

/// The three powers of a thick lens, in dioptres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThickPowers {
    /// Back vertex power: what a focimeter reads with the back of the lens on its rest.
    pub back_vertex_d: f64,
    /// Front vertex power: the same from the front, as for additions on the front.
    pub front_vertex_d: f64,
    /// Equivalent power: that of the thin lens which makes images of the same size.
    pub equivalent_d: f64,
}

/// Returns the vergence that a front surface of power `front_d` has on arriving at the back surface,
/// in dioptres: `F1 / (1 - (t/n) F1)`.
///
/// # Errors
/// [`OpticsError::Impossible`] when light comes to a focus inside the lens;
/// [`OpticsError::OutOfRange`] for an index not above 1 or a thickness below zero.
pub(crate) fn through_thickness_d(
    front_d: f64,
    centre_mm: f64,
    index: f64,
) -> Result<f64, OpticsError> {
    check_index(index)?;
    within(centre_mm, "centre thicknesses", 0.0, 1000.0, "mm")?;
    let divisor = 1.0 - centre_mm / 1000.0 / index * front_d;
    if divisor > 1e-9 {
        finite(front_d / divisor)
    } else {
        Err(OpticsError::impossible(format!(
            "a surface of {front_d:+.2} D brings light to a focus inside {centre_mm:.1} mm of index {index:.3}: check \
             the curve and the thickness"
        )))
    }
}

/// Returns the powers of a lens of front power `front_d`, back power `back_d` (both true surface
/// powers, dioptres), centre thickness and index: `F'v = F1/(1 - (t/n)F1) + F2`,
/// `Fv = F1 + F2/(1 - (t/n)F2)`, `F = F1 + F2 - (t/n)F1 F2`.
///
/// # Errors
/// As [`through_thickness_d`], for light from either side.
pub fn thick_powers(
    front_d: f64,
    back_d: f64,
    centre_mm: f64,
    index: f64,
) -> Result<ThickPowers, OpticsError> {
    let reduced_m = centre_mm / 1000.0 / index;
    Ok(ThickPowers {
        back_vertex_d: through_thickness_d(front_d, centre_mm, index)? + finite(back_d)?,
        front_vertex_d: front_d + through_thickness_d(back_d, centre_mm, index)?,
        equivalent_d: finite(front_d + back_d - reduced_m * front_d * back_d)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thin_lens_has_one_power() {
        let p = thick_powers(6.0, -4.0, 0.0, 1.5).unwrap();
        assert_eq!(
            (p.back_vertex_d, p.front_vertex_d, p.equivalent_d),
            (2.0, 2.0, 2.0)
        );
    }

    #[test]
    fn light_cannot_focus_inside_the_lens() {
        assert!(thick_powers(60.0, 0.0, 30.0, 1.5).is_err());
    }
}
