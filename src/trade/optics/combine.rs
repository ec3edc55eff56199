//! Adding and subtracting powers: thin lenses in contact, obliquely crossed cylinders.
//!
//! Powers add as matrices (Keating, "An easier method to obtain the sphere, cylinder, and axis from
//! an off-axis dioptric power matrix", American Journal of Optometry 57 (1980) 734-737; Harris).

use super::{PowerMatrix, Rx};

/// Returns the power of thin lenses in contact, in minus-cylinder form: `F = F1 + F2 + ...`.
#[must_use]
pub fn combine(powers: impl IntoIterator<Item = Rx>) -> Rx {
    powers
        .into_iter()
        .fold(PowerMatrix::default(), |sum, rx| sum + rx.matrix())
        .rx()
}

/// Returns what has to be added to `from` to have `to`, in minus-cylinder form: `F = Fto - Ffrom`.
#[must_use]
pub fn difference(from: Rx, to: Rx) -> Rx {
    (to.matrix() - from.matrix()).rx()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_and_opposite_cylinders_are_a_crossed_cylinder() {
        let rx = combine([Rx::new(0.0, 0.5, 90.0), Rx::new(0.0, -0.5, 180.0)]);
        assert!((rx.sphere_d - 0.5).abs() < 1e-12 && (rx.cylinder_d + 1.0).abs() < 1e-12);
        assert!((rx.axis_deg - 180.0).abs() < 1e-9);
    }
}
