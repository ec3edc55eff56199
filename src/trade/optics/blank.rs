//! The smallest round blank a lens can be cut from.

use super::OpticsError;
use super::edge::Edge;
use super::outline::Outline;
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

/// Returns the diameter in millimetres of the smallest circle about the optical centre that holds the
/// whole shape, plus the allowance: twice the largest distance from the centre to the edge.
///
/// `centre` is measured from the boxed centre; towards which side does not matter, since the shape
/// is symmetrical. Never more than [`minimum_blank_mm`] of the shape's longest diameter. Elementary
/// geometry; checked against a search over 200,000 points of the edge.
///
/// # Errors
/// [`OpticsError`] where a point of the edge cannot be worked out from the box and the longest diameter.
pub(crate) fn exact_blank_mm(
    outline: &Outline,
    centre: LensPoint,
    allowance_mm: f64,
) -> Result<f64, OpticsError> {
    let square = |x: f64, y: f64| {
        let (x, y) = (x - centre.in_mm, y - centre.up_mm);
        Ok((x * x + y * y, [2.0 * x, 2.0 * y]))
    };
    let edge = Edge::of(outline);
    let farthest = edge.greatest(&edge.look(square)?, square)?;
    Ok(2.0 * farthest.value.sqrt() + allowance_mm)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn searched_mm(outline: &Outline, at: LensPoint) -> f64 {
        (0..200_000)
            .map(|i| {
                let angle = f64::from(i) * std::f64::consts::TAU / 200_000.0;
                let r = outline.radius_mm(angle);
                2.0 * (r * angle.cos() - at.in_mm).hypot(r * angle.sin() - at.up_mm)
            })
            .fold(0.0, f64::max)
    }

    #[test]
    fn the_exact_circle_is_the_one_found_by_search_and_never_above_the_bench_rule() {
        for (a, b, ed) in [
            (54.0, 42.0, 58.0),
            (50.0, 50.0, 50.0),
            (48.0, 30.0, 48.0),
            (40.0, 30.0, 50.0),
            (45.0, 52.0, 60.0),
        ] {
            let outline = Outline::from_box(a, b, ed).unwrap();
            for (in_mm, up_mm) in [(0.0, 0.0), (1.0, 5.0), (-6.0, -3.0), (4.0, 0.0), (0.0, 7.5)] {
                let at = LensPoint { in_mm, up_mm };
                let exact = exact_blank_mm(&outline, at, 0.0).unwrap();
                let searched = searched_mm(&outline, at);
                assert!(
                    (exact - searched).abs() < 1e-3,
                    "{a} {b} {ed} {at:?}: {exact} {searched}"
                );
                assert!(exact <= minimum_blank_mm(ed, at, 0.0) + 1e-9);
            }
        }
    }

    #[test]
    fn a_round_shape_needs_twice_the_shift_more() {
        let outline = Outline::from_box(50.0, 50.0, 50.0).unwrap();
        let at = LensPoint {
            in_mm: -3.0,
            up_mm: 4.0,
        };
        let exact = exact_blank_mm(&outline, at, ALLOWANCE_MM).unwrap();
        assert!((exact - 62.0).abs() < 1e-9, "{exact}");
    }

    #[test]
    fn a_shift_counts_twice() {
        let at = LensPoint {
            in_mm: 3.0,
            up_mm: -4.0,
        };
        assert!((minimum_blank_mm(50.0, at, ALLOWANCE_MM) - 62.0).abs() < 1e-12);
    }
}
