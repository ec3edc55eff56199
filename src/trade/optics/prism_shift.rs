//! How far prescribed prism moves the lines of sight in the lens plane, and so the points to centre on.
//!
//! An eye behind a prism turns towards its apex. By a prism of P prism dioptres it turns through
//! P/100, seen from its centre of rotation s behind the lens: the line of sight moves by `s P/100`.
//! Source: Jalie, Ophthalmic Lenses and Dispensing (about 0.25 to 0.3 mm for each prism dioptre).

use super::prism::{LensPoint, Prism};

/// Returns how far the line of sight moves, mm, away from the base, for a prism of `amount_delta`
/// prism dioptres (0 or more), `vertex_mm` before the cornea and `rotation_mm` from there to the
/// centre of rotation ([`super::centration::ROTATION_MM`]).
#[must_use]
pub(crate) fn sight_shift_mm(amount_delta: f64, vertex_mm: f64, rotation_mm: f64) -> f64 {
    (vertex_mm + rotation_mm) * amount_delta / 100.0
}

/// Returns the same as a move of the point to centre on: base in moves it temporally, base up down.
#[must_use]
pub fn sight_shift(prism: Prism, vertex_mm: f64, rotation_mm: f64) -> LensPoint {
    LensPoint {
        in_mm: -sight_shift_mm(prism.base_in_delta, vertex_mm, rotation_mm),
        up_mm: -sight_shift_mm(prism.base_up_delta, vertex_mm, rotation_mm),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Published: Brooks, as quoted in a trade forum, 0.3 mm for each prism dioptre, 5 move the
    /// centre 1.5 mm; a rule of thumb, met within a tenth.
    #[test]
    fn five_prism_dioptres_move_the_centre_about_a_millimetre_and_a_half() {
        let shift = sight_shift_mm(5.0, 14.0, 13.5);
        assert!((shift - 1.375).abs() < 1e-12 && (shift - 1.5).abs() < 0.15);
    }

    #[test]
    fn the_shift_is_away_from_the_base() {
        let prism = Prism {
            base_in_delta: 4.0,
            base_up_delta: -2.0,
        };
        let shift = sight_shift(prism, 12.0, 13.5);
        assert!((shift.in_mm + 1.02).abs() < 1e-12);
        assert!((shift.up_mm - 0.51).abs() < 1e-12);
    }
}
