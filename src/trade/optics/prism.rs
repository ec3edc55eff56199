//! Prism met away from the optical centre, and prism as an amount with a direction.
//!
//! `P = -F r` (Prentice's rule with the power matrix; r in centimetres from the optical centre to
//! the point looked through). Sources: Prentice (1890); Keating, "Prism imbalance", and Harris on
//! the matrix form; Jalie, The Principles of Ophthalmic Lenses, for the toric case.

use super::{OpticsError, Rx};
use crate::trade::eye::Eye;

/// A point of a lens, in millimetres from its optical or its boxed centre, signed towards the
/// nose and upwards.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct LensPoint {
    /// Millimetres towards the nose; temporal is negative.
    pub in_mm: f64,
    /// Millimetres upwards.
    pub up_mm: f64,
}

/// A prism in its horizontal and vertical parts, in prism dioptres.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Prism {
    /// Base in; base out is negative.
    pub base_in_delta: f64,
    /// Base up; base down is negative.
    pub base_up_delta: f64,
}

/// A prism as one amount and the direction of its base.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct CompoundPrism {
    /// Prism dioptres, never negative.
    pub amount_delta: f64,
    /// Degrees anticlockwise as seen facing the wearer, 0 to the observer's right, 0 <= base < 360.
    pub base_deg: f64,
}

/// Principal powers smaller than this (dioptres) give no prism however far a lens is moved.
const NO_POWER_D: f64 = 1e-9;

/// Returns the prism at a point measured from the optical centre: `P = -F r`.
#[must_use]
pub fn prism_at(eye: Eye, rx: Rx, from_centre: LensPoint) -> Prism {
    let f = rx.matrix();
    let side = eye.nasal_sign();
    let (x_cm, y_cm) = (side * from_centre.in_mm / 10.0, from_centre.up_mm / 10.0);
    Prism {
        base_in_delta: -side * (f.xx * x_cm + f.xy * y_cm),
        base_up_delta: -(f.xy * x_cm + f.yy * y_cm),
    }
}

/// Returns where the optical centre must lie, from the point looked through, to give a prism:
/// `c = F^-1 P`. Where a meridian has no power and is asked for no prism, the lens is not moved
/// along it.
///
/// # Errors
/// [`OpticsError::Impossible`] when prism is asked for along a meridian without power.
pub fn decentre_for(eye: Eye, rx: Rx, wanted: Prism) -> Result<LensPoint, OpticsError> {
    let side = eye.nasal_sign();
    let (sin, cos) = rx.axis_deg.to_radians().sin_cos();
    let (px, py) = (side * wanted.base_in_delta, wanted.base_up_delta);
    let (along_d, across_d) = rx.principal_powers();
    let along_cm = shift_cm(px * cos + py * sin, along_d, rx.axis_deg)?;
    let across_cm = shift_cm(py * cos - px * sin, across_d, rx.axis_deg + 90.0)?;
    Ok(LensPoint {
        in_mm: side * 10.0 * (along_cm * cos - across_cm * sin),
        up_mm: 10.0 * (along_cm * sin + across_cm * cos),
    })
}

fn shift_cm(prism_delta: f64, power_d: f64, meridian_deg: f64) -> Result<f64, OpticsError> {
    if power_d.abs() > NO_POWER_D {
        let cm = prism_delta / power_d;
        if cm.is_finite() {
            return Ok(cm);
        }
    } else if prism_delta.abs() < NO_POWER_D {
        return Ok(0.0);
    }
    Err(OpticsError::impossible(format!(
        "the lens has no power along {:.0} degrees, so no decentration gives the {:.2} prism dioptres wanted there: \
         order it as worked prism",
        super::power::normal_axis(meridian_deg),
        prism_delta.abs()
    )))
}

/// Returns the horizontal and vertical parts of a prism given by amount and base direction.
///
/// `base_deg` in degrees anticlockwise as seen facing the wearer, 0 to the observer's right (base
/// in for a right eye, out for a left eye).
#[must_use]
pub fn resolve(eye: Eye, prism: CompoundPrism) -> Prism {
    let (sin, cos) = prism.base_deg.to_radians().sin_cos();
    Prism {
        base_in_delta: eye.nasal_sign() * prism.amount_delta * cos,
        base_up_delta: prism.amount_delta * sin,
    }
}

/// Returns the single prism that two parts make: `hypot`, and the direction of the base.
///
/// Where there is no prism the base is given as 0.
#[must_use]
pub fn compound(eye: Eye, prism: Prism) -> CompoundPrism {
    let x = eye.nasal_sign() * prism.base_in_delta;
    let amount_delta = x.hypot(prism.base_up_delta);
    let base_deg = if amount_delta > 0.0 {
        let deg = prism.base_up_delta.atan2(x).to_degrees().rem_euclid(360.0);
        // An angle a hair below zero comes out of the remainder as 360 itself.
        if deg < 360.0 { deg } else { 0.0 }
    } else {
        0.0
    };
    CompoundPrism {
        amount_delta,
        base_deg,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn looking_below_the_centre_of_a_plus_lens_finds_base_up() {
        let at = LensPoint {
            in_mm: 0.0,
            up_mm: -10.0,
        };
        let p = prism_at(Eye::Left, Rx::sphere(3.0), at);
        assert!((p.base_up_delta - 3.0).abs() < 1e-12);
    }

    #[test]
    fn a_plano_cylinder_is_moved_only_across_its_axis() {
        let cylinder = Rx::new(0.0, -2.0, 180.0);
        let up = Prism {
            base_in_delta: 0.0,
            base_up_delta: 1.0,
        };
        let at = decentre_for(Eye::Right, cylinder, up).unwrap();
        assert!(at.in_mm.abs() < 1e-9 && (at.up_mm + 5.0).abs() < 1e-9);
        let inwards = Prism {
            base_in_delta: 1.0,
            base_up_delta: 0.0,
        };
        let e = decentre_for(Eye::Right, cylinder, inwards).unwrap_err();
        assert!(e.to_string().contains("along 180 degrees"), "{e}");
    }
}
