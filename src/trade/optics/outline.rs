//! The edge of a lens when only its box and longest diameter are known.
//!
//! The edge is taken as the superellipse `|x/(a/2)|^p + |y/(b/2)|^p = 1`, p >= 2, whose longest
//! diameter is the measured one: an ellipse when that is the longer side of the box, a rectangle
//! when it is the box's diagonal. By Hölder's inequality its longest radius is
//! `((a/2)^(2s) + (b/2)^(2s))^(1/(2s))` with `s = p/(p - 2)`, which rises from the longer half side
//! to the half diagonal as p grows: so p is found by its root.

use super::OpticsError;
use super::error::within;

/// A superellipse about the boxed centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outline {
    half_a_mm: f64,
    half_b_mm: f64,
    power: f64,
}

/// A box and a diameter agree when they differ by less than this, mm.
const SLACK_MM: f64 = 1e-9;

impl Outline {
    /// Returns the edge that fills an `a_mm` by `b_mm` box and has `ed_mm` as its longest diameter.
    ///
    /// # Errors
    /// [`OpticsError::Impossible`] when the diameter is shorter than the box's longer side or
    /// longer than its diagonal; [`OpticsError::OutOfRange`] for sides not between 1 and 200 mm.
    pub fn from_box(a_mm: f64, b_mm: f64, ed_mm: f64) -> Result<Self, OpticsError> {
        within(a_mm, "box widths", 1.0, 200.0, "mm")?;
        within(b_mm, "box heights", 1.0, 200.0, "mm")?;
        within(ed_mm, "longest diameters", 1.0, 300.0, "mm")?;
        let (longer, diagonal) = (a_mm.max(b_mm), a_mm.hypot(b_mm));
        if ed_mm < longer - SLACK_MM || ed_mm > diagonal + SLACK_MM {
            return Err(OpticsError::impossible(format!(
                "the longest diameter of a shape in a {a_mm:.1} by {b_mm:.1} mm box lies between {longer:.1} and \
                 {diagonal:.1} mm, not at {ed_mm:.1}: measure it again"
            )));
        }
        let (shorter, half_a_mm, half_b_mm) = (a_mm.min(b_mm), a_mm / 2.0, b_mm / 2.0);
        Ok(Self {
            half_a_mm,
            half_b_mm,
            power: exponent(shorter / longer, ed_mm / longer),
        })
    }

    /// Returns the exponent p: 2 for an ellipse, larger the squarer the shape is.
    #[must_use]
    pub fn exponent(&self) -> f64 {
        self.power
    }

    /// Returns the radius from the boxed centre at an angle, in millimetres.
    #[must_use]
    pub fn radius_mm(&self, angle_rad: f64) -> f64 {
        let (sin, cos) = angle_rad.sin_cos();
        let (x, y) = (cos.abs() / self.half_a_mm, sin.abs() / self.half_b_mm);
        let (larger, ratio) = if x > y { (x, y / x) } else { (y, x / y) };
        // With the larger part taken out, powers of a rectangle's huge exponent cannot overflow.
        1.0 / (larger * (1.0 + ratio.powf(self.power)).powf(1.0 / self.power))
    }

    /// Returns the place of the edge at an angle between 0 and a whole turn.
    pub(super) fn place(&self, angle: f64) -> EdgePlace {
        let (sin, cos) = angle.sin_cos();
        let (x, y) = (cos.abs() / self.half_a_mm, sin.abs() / self.half_b_mm);
        let (larger, ratio) = if x > y { (x, y / x) } else { (y, x / y) };
        let part = ratio.powf(self.power);
        let r = 1.0 / (larger * (1.0 + part).powf(1.0 / self.power));
        // -d(ln r) is the mean of d(ln |cos|) and d(ln |sin|), each with its share of the sum; the
        // smaller share vanishes before its logarithm's rate can become infinite.
        let smaller_rate = |rate: f64| if part > 0.0 { part * rate } else { 0.0 };
        let growth = if x > y {
            (sin / cos - smaller_rate(cos / sin)) / (1.0 + part)
        } else {
            (smaller_rate(sin / cos) - cos / sin) / (1.0 + part)
        };
        EdgePlace {
            angle,
            x: r * cos,
            y: r * sin,
            x_rate: r * (growth * cos - sin),
            y_rate: r * (growth * sin + cos),
        }
    }

    /// Returns the angle at which the corner of the box lies, in radians.
    #[must_use]
    pub fn corner_rad(&self) -> f64 {
        self.half_b_mm.atan2(self.half_a_mm)
    }

    /// Whether a point measured from the boxed centre lies on the lens.
    #[must_use]
    pub fn contains(&self, x_mm: f64, y_mm: f64) -> bool {
        x_mm.hypot(y_mm) <= self.radius_mm(y_mm.atan2(x_mm))
    }

    /// Returns half the width of the box, in millimetres.
    pub(super) fn half_a_mm(&self) -> f64 {
        self.half_a_mm
    }

    /// Returns half the height of the box, in millimetres.
    pub(super) fn half_b_mm(&self) -> f64 {
        self.half_b_mm
    }
}

/// A place of an edge, from the boxed centre, and how it moves with the angle.
#[derive(Debug, Clone, Copy)]
pub(super) struct EdgePlace {
    /// The angle, radians.
    pub angle: f64,
    /// Mm along the horizontal.
    pub x: f64,
    /// Mm along the vertical.
    pub y: f64,
    /// Mm along the horizontal for a radian.
    pub x_rate: f64,
    /// Mm along the vertical for a radian.
    pub y_rate: f64,
}

impl EdgePlace {
    /// Returns the mirror image of a place of the first quadrant in another one: `x` and `y` are the
    /// signs of that quadrant.
    pub(crate) fn mirrored(self, x: f64, y: f64) -> Self {
        let turn = std::f64::consts::PI;
        let angle = match (x > 0.0, y > 0.0) {
            (true, true) => self.angle,
            (false, true) => turn - self.angle,
            (false, false) => turn + self.angle,
            (true, false) => 2.0 * turn - self.angle,
        };
        // Seen in one mirror, the angle runs the other way round.
        let way = x * y;
        Self {
            angle,
            x: x * self.x,
            y: y * self.y,
            x_rate: way * x * self.x_rate,
            y_rate: way * y * self.y_rate,
        }
    }
}

/// Returns the exponent of a superellipse whose shorter side and longest diameter are these shares of
/// the longer side.
///
/// With `s = 1/q` from 1 (the rectangle) to infinity (the ellipse) the logarithm of the logarithm of
/// the longest diameter, `ln(ln(1 + ratio^(2s))/2s)`, is nearly straight: Newton's steps reach its
/// zero in a few, a step that would leave the interval is replaced by its midpoint.
fn exponent(ratio: f64, diameter: f64) -> f64 {
    let wanted = diameter.ln();
    if wanted <= 0.0 {
        return 2.0;
    }
    let (wanted, slope) = (wanted.ln(), 2.0 * ratio.ln());
    let (mut low, mut high, mut s) = (1.0, f64::INFINITY, 1.0);
    for _ in 0..100 {
        let part = (slope * s).exp();
        let longest = part.ln_1p();
        let over = (longest / (2.0 * s)).ln() - wanted;
        if over > 0.0 {
            low = s;
        } else {
            high = s;
        }
        let step = over / (1.0 / s - slope * part / (longest * (1.0 + part)));
        let next = s + step;
        let next = if next > low && next < high {
            next
        } else if high.is_finite() {
            f64::midpoint(low, high)
        } else {
            2.0 * s
        };
        // The longest diameter is the diagonal of the box: the shape is the rectangle itself.
        if high <= 1.0 {
            return f64::INFINITY;
        }
        if (next - s).abs() <= 4.0 * f64::EPSILON * s {
            break;
        }
        s = next;
    }
    2.0 / (1.0 - 1.0 / s)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn longest(outline: &Outline) -> f64 {
        (0..20_000)
            .map(|i| 2.0 * outline.radius_mm(f64::from(i) * std::f64::consts::PI / 10_000.0))
            .fold(0.0, f64::max)
    }

    #[test]
    fn the_longest_diameter_is_the_one_measured() {
        for (a, b, ed) in [
            (52.0, 36.0, 55.0),
            (45.0, 45.0, 45.0),
            (40.0, 50.0, 58.0),
            (50.0, 30.0, 50.0),
        ] {
            let o = Outline::from_box(a, b, ed).unwrap();
            assert!(
                (longest(&o) - ed).abs() < 1e-3,
                "{a} {b} {ed}: {}",
                longest(&o)
            );
            assert!((2.0 * o.radius_mm(0.0) - a).abs() < 1e-9);
        }
    }

    #[test]
    fn a_diagonal_makes_a_rectangle_and_more_is_refused() {
        let o = Outline::from_box(40.0, 30.0, 50.0).unwrap();
        assert!((2.0 * o.radius_mm(o.corner_rad()) - 50.0).abs() < 1e-6);
        let e = Outline::from_box(40.0, 30.0, 50.1).unwrap_err();
        assert!(e.to_string().contains("between 40.0 and 50.0"), "{e}");
        assert!(Outline::from_box(40.0, 30.0, 39.0).is_err());
    }
}
