//! Which front curve a lens of usual form has.

use super::Rx;

/// The flattest front curve that the rule gives, dioptres.
pub(crate) const FLATTEST_D: f64 = 0.5;

/// Returns the front curve of a lens of usual form by Vogel's rule, in dioptres: plus lenses mean
/// sphere + 6, minus lenses half the mean sphere + 6, never below [`FLATTEST_D`].
///
/// An estimate for when the curve is not known; the laboratory's figure wins. Source: Vogel's rule
/// as taught in opticianry courses.
#[must_use]
pub fn vogel_base_d(rx: Rx) -> f64 {
    let mean = rx.mean_d();
    let base = if mean > 0.0 {
        mean + 6.0
    } else {
        mean / 2.0 + 6.0
    };
    base.max(FLATTEST_D)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plus_lenses_add_and_minus_lenses_halve() {
        assert_eq!(
            vogel_base_d(Rx::new(2.0, -1.0, 90.0)).to_bits(),
            7.5f64.to_bits()
        );
        assert_eq!(vogel_base_d(Rx::sphere(-4.0)).to_bits(), 4.0f64.to_bits());
        assert_eq!(
            vogel_base_d(Rx::sphere(-20.0)).to_bits(),
            FLATTEST_D.to_bits()
        );
    }
}
