//! Prism at the reading point of a pair, and the jump at the top of a segment.
//!
//! Source: Jalie, Ophthalmic Lenses and Dispensing; Prentice's rule as in [`super::prism`].

use super::Rx;
use super::prism::{LensPoint, Prism, prism_at};
use crate::trade::eye::{Eye, PerEye};

/// The prism that both eyes of a pair meet when looking down to read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReadingPrism {
    /// The prism before each eye.
    pub at: PerEye<Prism>,
    /// Right base-up less left base-up, prism dioptres.
    pub vertical_difference_delta: f64,
    /// Right base-in plus left base-in, prism dioptres.
    pub horizontal_total_delta: f64,
}

/// Returns the prism of a pair at a point `drop_mm` below and `inset_mm` nasal of the optical centres.
#[must_use]
pub fn reading_prism(powers: PerEye<Rx>, drop_mm: f64, inset_mm: f64) -> ReadingPrism {
    let place = LensPoint {
        in_mm: inset_mm,
        up_mm: -drop_mm,
    };
    let at = PerEye {
        right: prism_at(Eye::Right, powers.right, place),
        left: prism_at(Eye::Left, powers.left, place),
    };
    ReadingPrism {
        at,
        vertical_difference_delta: at.right.base_up_delta - at.left.base_up_delta,
        horizontal_total_delta: at.right.base_in_delta + at.left.base_in_delta,
    }
}

/// Returns the sudden prism at the top edge of a segment, in prism dioptres base down: the addition
/// times the distance from the top of the segment to its optical centre in centimetres.
#[must_use]
pub(crate) fn segment_jump_delta(addition_d: f64, top_to_centre_mm: f64) -> f64 {
    addition_d * top_to_centre_mm / 10.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_lenses_make_no_vertical_difference() {
        let rx = Rx::new(-4.0, -1.0, 180.0);
        let p = reading_prism(
            PerEye {
                right: rx,
                left: rx,
            },
            10.0,
            2.0,
        );
        assert!(p.vertical_difference_delta.abs() < 1e-12);
        assert!((p.at.right.base_up_delta + 5.0).abs() < 1e-12);
    }
}
