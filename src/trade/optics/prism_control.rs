//! Prism control: what balances a pair that differs vertically at the reading level.
//!
//! Source: Jalie, Ophthalmic Lenses and Dispensing (bi-prism and unequal round segments, difference
//! of the diameters `20 P / A`); the same rule in course notes and on a page of a scanned textbook,
//! both in `tests/data/checks/SOURCES.md`.

use super::Rx;
use super::near_prism::reading_prism;
use crate::trade::eye::{Eye, PerEye};

/// What balances a pair at the reading level, by worked prism or by unequal round segments.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PrismControl {
    /// Base up to be worked on the lower part of one lens, prism dioptres, never below 0.
    pub amount_delta: f64,
    /// The lens it goes on, more minus or less plus vertically; none where nothing is needed.
    pub eye: Option<Eye>,
    /// Instead: by how much the diameters of round segments with level tops must differ, mm.
    pub segment_difference_mm: f64,
    /// The eye with the larger of these segments; none where nothing is needed.
    pub larger_segment_eye: Option<Eye>,
}

/// Returns what balances a pair `drop_mm` (above 0) below the distance centres, of the vertical
/// difference there less the `tolerated_delta` prism dioptres that the wearer can do with;
/// `addition_d` (above 0) is that of both segments.
#[must_use]
pub(crate) fn prism_control(
    powers: PerEye<Rx>,
    drop_mm: f64,
    tolerated_delta: f64,
    addition_d: f64,
) -> PrismControl {
    let apart_delta = reading_prism(powers, drop_mm, 0.0).vertical_difference_delta;
    let amount_delta = f64::max(apart_delta.abs() - tolerated_delta, 0.0);
    // Below the centre the lens with more plus has more base up: the other needs it.
    let weaker = if apart_delta > 0.0 {
        Eye::Left
    } else {
        Eye::Right
    };
    let eye = (amount_delta > 0.0).then_some(weaker);
    PrismControl {
        amount_delta,
        eye,
        segment_difference_mm: 20.0 * amount_delta / addition_d,
        larger_segment_eye: eye.map(Eye::other),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::optics::near_prism::{Segment, segmented_reading_prism};

    /// Published: a training page on slab-off (+1.00 and +4.00, 10 mm: 3.0 on the weaker lens), and
    /// an examination question (+1.50 and +5.25, 8 mm: 3.0).
    #[test]
    fn published_examples_agree() {
        for (right, left, drop_mm) in [(1.0, 4.0, 10.0), (1.5, 5.25, 8.0)] {
            let powers = PerEye {
                right: Rx::sphere(right),
                left: Rx::sphere(left),
            };
            let control = prism_control(powers, drop_mm, 0.0, 2.0);
            assert!((control.amount_delta - 3.0).abs() < 1e-9);
            assert_eq!(control.eye, Some(Eye::Right));
            assert_eq!(control.larger_segment_eye, Some(Eye::Left));
        }
    }

    #[test]
    fn what_is_tolerated_needs_nothing() {
        let powers = PerEye {
            right: Rx::sphere(1.0),
            left: Rx::sphere(2.0),
        };
        let control = prism_control(powers, 8.0, 1.0, 2.0);
        assert!(control.amount_delta.abs() < 1e-12 && control.segment_difference_mm.abs() < 1e-12);
        assert_eq!((control.eye, control.larger_segment_eye), (None, None));
    }

    /// Derived otherwise: round segments with level tops, their centres half a diameter below, leave
    /// exactly the difference that is tolerated.
    #[test]
    fn the_unequal_segments_leave_what_is_tolerated() {
        let powers = PerEye {
            right: Rx::new(-4.0, -1.0, 20.0),
            left: Rx::new(-1.0, -0.5, 160.0),
        };
        let (drop_mm, top_mm, addition_d) = (9.0, 3.0, 2.25);
        for tolerated in [0.0, 0.75] {
            let control = prism_control(powers, drop_mm, tolerated, addition_d);
            let segment = |eye: Eye| {
                let larger = control.larger_segment_eye == Some(eye);
                let diameter = 22.0
                    + if larger {
                        control.segment_difference_mm
                    } else {
                        0.0
                    };
                Segment {
                    addition_d,
                    oc_drop_mm: top_mm + diameter / 2.0,
                    oc_inset_mm: 0.0,
                }
            };
            let segments = PerEye {
                right: segment(Eye::Right),
                left: segment(Eye::Left),
            };
            let left = segmented_reading_prism(powers, segments, drop_mm, 0.0);
            assert!((left.vertical_difference_delta.abs() - tolerated).abs() < 1e-9);
        }
    }
}
