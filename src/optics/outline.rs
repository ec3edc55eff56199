//! The edge of a lens when only its box and longest diameter are known.
//!
//! The edge is taken as the superellipse `|x/(a/2)|^p + |y/(b/2)|^p = 1`, p >= 2, whose longest
//! diameter is the measured one: an ellipse when that is the longer side of the box, a rectangle
//! when it is the box's diagonal. By Hölder's inequality its longest radius is
//! `((a/2)^(2s) + (b/2)^(2s))^(1/(2s))` with `s = p/(p - 2)`, which rises from the longer half side
//! to the half diagonal as p grows: so p is found by bisection.

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
        // Bisection on q = 1/s, over which the longest diameter rises from the side to the diagonal.
        let ratio = a_mm.min(b_mm) / longer;
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..60 {
            let q = f64::midpoint(low, high);
            if longer * (1.0 + ratio.powf(2.0 / q)).powf(q / 2.0) < ed_mm {
                low = q;
            } else {
                high = q;
            }
        }
        Ok(Self {
            half_a_mm: a_mm / 2.0,
            half_b_mm: b_mm / 2.0,
            power: 2.0 / (1.0 - f64::midpoint(low, high)),
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
