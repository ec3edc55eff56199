//! The thinnest place within the edge of a lens with prism, which is thinnest towards the apex.
//!
//! The shape is sampled, and from the thinnest sample Newton's method finds where the thickness has
//! no slope. A place on the edge itself is [`super::edge`]'s to find.

use super::OpticsError;
use super::edge::Slope;
use super::outline::Outline;

/// Samples along each radius, and round the shape.
const ALONG: u8 = 8;
const ROUND: u8 = 32;

/// Step of the differences by which the second derivatives are approximated, mm.
const STEP_MM: f64 = 1e-3;

/// The slope at which a place counts as level, mm/mm.
const LEVEL: f64 = 1e-12;

/// Returns the least value found within the shape: exact where the value has a bottom there, and
/// never less than the least of the shape and its edge together.
pub(super) fn least_within(
    outline: &Outline,
    at: impl Fn(f64, f64) -> Result<Slope, OpticsError>,
) -> Result<f64, OpticsError> {
    let mut best = (0.0, 0.0, at(0.0, 0.0)?.0);
    for i in 0..ROUND {
        let angle = std::f64::consts::TAU * f64::from(i) / f64::from(ROUND);
        let (sin, cos) = angle.sin_cos();
        let radius = outline.radius_mm(angle);
        for k in 1..ALONG {
            let r = radius * f64::from(k) / f64::from(ALONG);
            let (x, y) = (r * cos, r * sin);
            let (value, _) = at(x, y)?;
            if value < best.2 {
                best = (x, y, value);
            }
        }
    }
    bottom(outline, best, at)
}

/// Goes down from a place to the bottom near it, or as far as that leads within the shape.
fn bottom(
    outline: &Outline,
    (mut x, mut y, mut value): (f64, f64, f64),
    at: impl Fn(f64, f64) -> Result<Slope, OpticsError>,
) -> Result<f64, OpticsError> {
    for _ in 0..50 {
        let (_, [by_x, by_y]) = at(x, y)?;
        if by_x.hypot(by_y) < LEVEL {
            break;
        }
        let Some((dx, dy)) = newton(x, y, [by_x, by_y], &at) else {
            break;
        };
        // A step that leaves the shape or leads upwards is halved.
        let shorter = (0..40).map(|n| 0.5_f64.powi(n)).find_map(|share| {
            let (nx, ny) = (x + share * dx, y + share * dy);
            if !outline.contains(nx, ny) {
                return None;
            }
            let (lower, _) = at(nx, ny).ok()?;
            (lower < value).then_some((nx, ny, lower))
        });
        match shorter {
            Some(lower) => (x, y, value) = lower,
            None => break,
        }
    }
    Ok(value)
}

/// Newton's step to where the slope is zero; `None` where the value has no bottom near.
fn newton(
    x: f64,
    y: f64,
    [by_x, by_y]: [f64; 2],
    at: &impl Fn(f64, f64) -> Result<Slope, OpticsError>,
) -> Option<(f64, f64)> {
    let slope = |x, y| at(x, y).ok().map(|(_, slope)| slope);
    let (right, left) = (slope(x + STEP_MM, y)?, slope(x - STEP_MM, y)?);
    let (above, below) = (slope(x, y + STEP_MM)?, slope(x, y - STEP_MM)?);
    let xx = (right[0] - left[0]) / (2.0 * STEP_MM);
    let xy = (right[1] - left[1] + above[0] - below[0]) / (4.0 * STEP_MM);
    let yy = (above[1] - below[1]) / (2.0 * STEP_MM);
    let determinant = xx * yy - xy * xy;
    let is_bottom = xx > 0.0 && determinant > 0.0;
    is_bottom.then(|| {
        (
            (xy * by_y - yy * by_x) / determinant,
            (xy * by_x - xx * by_y) / determinant,
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bottom_of_a_bowl_is_found_and_a_dome_has_none() {
        let outline = Outline::from_box(50.0, 40.0, 54.0).unwrap();
        let bowl = |x: f64, y: f64| {
            let (dx, dy) = (x - 7.3, y + 4.1);
            Ok((
                2.0 + 0.01 * dx * dx + 0.02 * dy * dy + 0.005 * dx * dy,
                [0.02 * dx + 0.005 * dy, 0.04 * dy + 0.005 * dx],
            ))
        };
        assert!((least_within(&outline, bowl).unwrap() - 2.0).abs() < 1e-12);
        let dome = |x: f64, y: f64| Ok((5.0 - 0.01 * (x * x + y * y), [-0.02 * x, -0.02 * y]));
        let least = least_within(&outline, dome).unwrap();
        assert!(
            least > 5.0 - 0.01 * 27.0 * 27.0,
            "the edge is not its to find: {least}"
        );
    }
}
