//! The smallest round blank a lens can be cut from.

use super::prism::LensPoint;

/// Allowance for chipping and grinding at the edge of a blank, in millimetres, where no other is
/// agreed with the laboratory.
pub(crate) const ALLOWANCE_MM: f64 = 2.0;

/// Returns the smallest blank diameter in millimetres: `ed + 2 hypot(in, up) + allowance`.
///
/// `ed_mm` is the longest diameter of the lens shape through its boxed centre and `centre` the
/// optical centre from the boxed centre. The shift counts twice because the blank is round about
/// the optical centre; the rule supposes that the longest radius lies on the far side, so it never
/// gives too small a blank. Source: Jalie, Ophthalmic Lenses and Dispensing; Brooks and Borish.
#[must_use]
pub fn minimum_blank_mm(ed_mm: f64, centre: LensPoint, allowance_mm: f64) -> f64 {
    ed_mm + 2.0 * centre.in_mm.hypot(centre.up_mm) + allowance_mm
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shift_counts_twice() {
        let at = LensPoint {
            in_mm: 3.0,
            up_mm: -4.0,
        };
        assert!((minimum_blank_mm(50.0, at, ALLOWANCE_MM) - 62.0).abs() < 1e-12);
    }
}
