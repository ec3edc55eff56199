//! The surfaces of a lens: a sphere, or a toroid made by swinging one circle about an axis.
//!
//! A surface is described by how deep it lies behind the plane that touches it at its vertex,
//! positive towards the eye, so that a convex front and the concave back of a meniscus both have
//! positive curvatures. One formula serves planes, spheres and toroids: sag written as
//! `k x^2 / (1 + sqrt(1 - k^2 x^2))` has no radius that could become infinite.

use super::PowerMatrix;

/// A spherical or toroidal surface, lengths in millimetres, seen in lens axes.
///
/// The circle of the algebraically greater curvature's meridian is swung about an axis parallel to
/// that meridian's direction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Surface {
    /// Curvature of the circle, per millimetre; the greater of the two.
    circle: f64,
    /// Curvature of the sweep, per millimetre.
    sweep: f64,
    /// Cosine and sine of the circle's meridian.
    cos: f64,
    sin: f64,
}

/// Depth of a surface at a place with its first and second derivatives.
#[derive(Debug, Clone, Copy)]
pub(super) struct Relief {
    /// Depth, millimetres.
    pub depth: f64,
    /// Slopes along x and y.
    pub slope: [f64; 2],
    /// Second derivatives xx, xy, yy, per millimetre.
    pub bend: PowerMatrix,
}

/// The sag of a circle and its derivatives by place and by curvature.
struct Arc {
    sag: f64,
    by_x: f64,
    by_xx: f64,
    by_k: f64,
    by_xk: f64,
    by_kk: f64,
}

impl Arc {
    fn at(k: f64, x: f64) -> Option<Self> {
        let under_root = 1.0 - k * k * x * x;
        if under_root <= 0.0 {
            return None;
        }
        let w = under_root.sqrt();
        let sag = k * x * x / (1.0 + w);
        let by_k = (sag * sag + x * x) / (2.0 * w);
        let cubed = under_root * w;
        Some(Self {
            sag,
            by_x: k * x / w,
            by_xx: k / cubed,
            by_k,
            by_xk: x / cubed,
            by_kk: sag * by_k / w + by_k * k * x * x / under_root,
        })
    }
}

/// The sag of a circle and its slope, none where the circle ends.
fn sag_and_slope(k: f64, x: f64) -> Option<(f64, f64)> {
    let under_root = 1.0 - k * k * x * x;
    (under_root > 0.0).then(|| {
        let w = under_root.sqrt();
        (k * x * x / (1.0 + w), k * x / w)
    })
}

impl Surface {
    /// Returns a sphere of that curvature per millimetre.
    pub(crate) fn sphere(curvature: f64) -> Self {
        Self {
            circle: curvature,
            sweep: curvature,
            cos: 1.0,
            sin: 0.0,
        }
    }

    /// Returns the toroid whose curvatures at the vertex are that matrix, per metre.
    pub(crate) fn toroid(curvature_per_m: PowerMatrix) -> Self {
        // The minus form names the greater value first and gives its direction as the axis.
        let k = curvature_per_m.rx();
        let (sin, cos) = k.axis_deg.to_radians().sin_cos();
        Self {
            circle: k.sphere_d / 1000.0,
            sweep: (k.sphere_d + k.cylinder_d) / 1000.0,
            cos,
            sin,
        }
    }

    /// Returns the algebraically greatest and least curvature at the vertex, per millimetre.
    ///
    /// A toroid lies between the spheres of these two that touch it at its vertex.
    pub(crate) fn curvatures(&self) -> (f64, f64) {
        (self.circle, self.sweep)
    }

    /// Returns the depth alone, none where the surface does not reach.
    pub(crate) fn depth(&self, x: f64, y: f64) -> Option<f64> {
        let (along, across) = (x * self.cos + y * self.sin, y * self.cos - x * self.sin);
        let circle = super::curves::sag_of_square(self.circle, along * along)?;
        let sweep = self.sweep_at(circle)?;
        Some(circle + super::curves::sag_of_square(sweep, across * across)?)
    }

    /// Returns the depth and its slopes along x and y, none where the surface does not reach: what
    /// [`Surface::relief`] says but for the second derivatives, for those who ask often.
    pub(crate) fn slope(&self, x: f64, y: f64) -> Option<(f64, [f64; 2])> {
        let (along, across) = (x * self.cos + y * self.sin, y * self.cos - x * self.sin);
        let (circle, by_along) = sag_and_slope(self.circle, along)?;
        let k = self.sweep_at(circle)?;
        let under_root = 1.0 - k * k * across * across;
        if under_root <= 0.0 {
            return None;
        }
        let w = under_root.sqrt();
        let sweep = k * across * across / (1.0 + w);
        let by_k = (sweep * sweep + across * across) / (2.0 * w);
        let (down_along, down_across) = (by_along * (1.0 + by_k * k * k), k * across / w);
        Some((
            circle + sweep,
            [
                down_along * self.cos - down_across * self.sin,
                down_along * self.sin + down_across * self.cos,
            ],
        ))
    }

    /// Returns the depth with its derivatives, none where the surface does not reach.
    pub(crate) fn relief(&self, x: f64, y: f64) -> Option<Relief> {
        let (along, across) = (x * self.cos + y * self.sin, y * self.cos - x * self.sin);
        let circle = Arc::at(self.circle, along)?;
        let k = self.sweep_at(circle.sag)?;
        let sweep = Arc::at(k, across)?;
        // The sweep's curvature k depends on how deep the circle already is: dk/dh = k^2.
        let grown = 1.0 + sweep.by_k * k * k;
        let by_hh = sweep.by_kk * k.powi(4) + 2.0 * sweep.by_k * k.powi(3);
        let bend = PowerMatrix {
            xx: circle.by_xx * grown + circle.by_x * circle.by_x * by_hh,
            xy: sweep.by_xk * k * k * circle.by_x,
            yy: sweep.by_xx,
        };
        let (down_along, down_across) = (circle.by_x * grown, sweep.by_x);
        Some(Relief {
            depth: circle.sag + sweep.sag,
            slope: [
                down_along * self.cos - down_across * self.sin,
                down_along * self.sin + down_across * self.cos,
            ],
            bend: bend.turned(self.cos, -self.sin),
        })
    }

    /// The curvature of the sweep through a point of the circle: its radius is shorter by the depth.
    fn sweep_at(&self, circle_depth: f64) -> Option<f64> {
        let root = 1.0 - self.sweep * circle_depth;
        (root > 0.0).then(|| self.sweep / root)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bent() -> Surface {
        Surface::toroid(PowerMatrix {
            xx: 12.0,
            xy: 3.0,
            yy: 7.0,
        })
    }

    #[test]
    fn slopes_and_bends_are_the_derivatives_of_the_depth() {
        let (surface, at, step) = (bent(), [6.0, -9.0], 1e-4);
        let here = surface.relief(at[0], at[1]).unwrap();
        let beside = |i: f64, j: f64| surface.relief(at[0] + i * step, at[1] + j * step).unwrap();
        assert!((here.depth - surface.depth(at[0], at[1]).unwrap()).abs() < 1e-13);
        let (depth, slope) = surface.slope(at[0], at[1]).unwrap();
        assert!((here.depth - depth).abs() < 1e-13);
        assert!((here.slope[0] - slope[0]).abs() < 1e-13);
        assert!((here.slope[1] - slope[1]).abs() < 1e-13);
        let (before, after) = (beside(-1.0, 0.0), beside(1.0, 0.0));
        let (below, above) = (beside(0.0, -1.0), beside(0.0, 1.0));
        let close =
            |found: f64, low: f64, high: f64| (found - (high - low) / (2.0 * step)).abs() < 1e-8;
        assert!(close(here.slope[0], before.depth, after.depth));
        assert!(close(here.slope[1], below.depth, above.depth));
        assert!(close(here.bend.xx, before.slope[0], after.slope[0]));
        assert!(close(here.bend.xy, before.slope[1], after.slope[1]));
        assert!(close(here.bend.xy, below.slope[0], above.slope[0]));
        assert!(close(here.bend.yy, below.slope[1], above.slope[1]));
    }

    #[test]
    fn a_toroid_of_equal_curvatures_is_a_sphere() {
        let toroid = Surface::toroid(PowerMatrix {
            xx: 10.0,
            xy: 0.0,
            yy: 10.0,
        });
        let depth = toroid.depth(12.0, 16.0).unwrap();
        assert!((depth - (100.0 - (10_000f64 - 400.0).sqrt())).abs() < 1e-11);
        assert!(toroid.depth(90.0, 50.0).is_none());
    }
}
