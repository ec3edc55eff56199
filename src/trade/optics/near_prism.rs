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
    of_pair(PerEye {
        right: prism_at(Eye::Right, powers.right, place),
        left: prism_at(Eye::Left, powers.left, place),
    })
}

/// A segment of a bifocal lens as its prism at a point needs it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Segment {
    /// The addition, dioptres.
    pub addition_d: f64,
    /// From the distance centre down to the segment's own optical centre, mm.
    pub oc_drop_mm: f64,
    /// From the distance centre nasally to the segment's own optical centre, mm.
    pub oc_inset_mm: f64,
}

/// Returns the prism of a pair of bifocals at a point `drop_mm` below and `inset_mm` nasal of the
/// distance centres: that of the distance powers and, more, that of each segment about its own
/// centre, `-A (r - c)`.
///
/// Source: Jalie, Ophthalmic Lenses and Dispensing; Prentice's rule for either.
#[must_use]
pub(crate) fn segmented_reading_prism(
    powers: PerEye<Rx>,
    segments: PerEye<Segment>,
    drop_mm: f64,
    inset_mm: f64,
) -> ReadingPrism {
    let distance = reading_prism(powers, drop_mm, inset_mm).at;
    let with = |eye: Eye| {
        let (lens, segment) = (*distance.get(eye), *segments.get(eye));
        let place = LensPoint {
            in_mm: inset_mm - segment.oc_inset_mm,
            up_mm: segment.oc_drop_mm - drop_mm,
        };
        let more = prism_at(eye, Rx::sphere(segment.addition_d), place);
        Prism {
            base_in_delta: lens.base_in_delta + more.base_in_delta,
            base_up_delta: lens.base_up_delta + more.base_up_delta,
        }
    };
    of_pair(PerEye {
        right: with(Eye::Right),
        left: with(Eye::Left),
    })
}

fn of_pair(at: PerEye<Prism>) -> ReadingPrism {
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

    /// Published: Durham Technical College, opticianry course notes NFOS-12, module 9 part d (+5.00
    /// and +2.00, additions 3.00 and 1.00, 8 mm down, centres of the segments 14 mm down).
    #[test]
    fn the_published_pair_of_unequal_segments_agrees() {
        let segment = |addition_d| Segment {
            addition_d,
            oc_drop_mm: 14.0,
            oc_inset_mm: 0.0,
        };
        let p = segmented_reading_prism(
            PerEye {
                right: Rx::sphere(5.0),
                left: Rx::sphere(2.0),
            },
            PerEye {
                right: segment(3.0),
                left: segment(1.0),
            },
            8.0,
            0.0,
        );
        assert!((p.at.right.base_up_delta - 2.2).abs() < 1e-9);
        assert!((p.at.left.base_up_delta - 1.0).abs() < 1e-9);
        assert!((p.vertical_difference_delta - 1.2).abs() < 1e-9);
    }

    #[test]
    fn a_segment_looked_through_at_its_centre_has_no_prism_of_its_own() {
        let segment = Segment {
            addition_d: 2.5,
            oc_drop_mm: 12.0,
            oc_inset_mm: 2.0,
        };
        let powers = PerEye {
            right: Rx::new(-3.0, -1.0, 30.0),
            left: Rx::new(1.0, -2.0, 140.0),
        };
        let both = PerEye {
            right: segment,
            left: segment,
        };
        let with = segmented_reading_prism(powers, both, 12.0, 2.0);
        assert_eq!(with, reading_prism(powers, 12.0, 2.0));
    }
}
