//! Transverse chromatic aberration: the colour fringes of looking past the optical centre.
//!
//! A prism splits light by its power over the Abbe number of what it is made of, `P / V`, and a
//! lens is a prism of `c F` (Prentice's rule) wherever one looks `c` centimetres from its optical
//! centre: `TCA = c F / V`, in prism dioptres between the F and the C line. Source: Jalie, The
//! Principles of Ophthalmic Lenses.

use super::Rx;

/// Returns the largest transverse chromatic aberration at a distance from the optical centre in any
/// direction, in prism dioptres: along the meridian of the strongest principal power.
#[must_use]
pub(crate) fn largest_transverse_chromatic_delta(rx: Rx, distance_mm: f64, abbe: f64) -> f64 {
    distance_mm / 10.0 * rx.strongest_d().abs() / abbe
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::eye::Eye;
    use crate::trade::optics::prism::{LensPoint, prism_at};
    use proptest::prelude::*;

    #[test]
    fn minus_six_in_polycarbonate_twenty_millimetres_out_is_twelve_prism_dioptres_over_thirty() {
        let found = largest_transverse_chromatic_delta(Rx::sphere(-6.0), 20.0, 30.0);
        assert!((found - 0.4).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn no_direction_is_worse_than_the_largest_and_one_is_as_bad(
            sphere in -20.0..20.0f64, cylinder in -6.0..6.0f64, axis in 1.0..180.0f64,
            abbe in 25.0..60.0f64,
        ) {
            let rx = Rx::new(sphere, cylinder, axis);
            let largest = largest_transverse_chromatic_delta(rx, 20.0, abbe);
            let mut found: f64 = 0.0;
            for step in 0..720u32 {
                let (up, along) = (f64::from(step) / 4.0).to_radians().sin_cos();
                let place = LensPoint { in_mm: 20.0 * along, up_mm: 20.0 * up };
                let prism = prism_at(Eye::Left, rx, place);
                let here = prism.base_in_delta.hypot(prism.base_up_delta) / abbe;
                prop_assert!(here <= largest + 1e-9);
                found = found.max(here);
            }
            prop_assert!(found >= largest * 0.9999 - 1e-9);
        }
    }
}
