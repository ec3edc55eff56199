//! One ray through one lens, and what the lens does to a thin pencil about that ray.
//!
//! The chief ray is traced from the eye outwards by Snell's law at the true surfaces. The power is
//! then carried along it in the direction of light: refraction of a wavefront's curvature matrix at
//! an inclined, astigmatic surface (generalised Coddington equations; Keating, "Oblique central
//! refraction in spherocylindrical lenses tilted around an off-axis meridian" (1993); Landgrave
//! and Moya-Cessa, "Generalized Coddington equations in ophthalmic lens design", J. Opt. Soc. Am. A 13
//! (1996) 1637-1644) and transfer through the glass. This is the exact linear map of offsets to slopes, the limit
//! that tracing neighbouring rays only approaches.

use super::surface::{Relief, Surface};
use super::tilt::Vector;
use super::{OpticsError, PowerMatrix};

/// A lens in its own axes: x and y in the plane that touches the back vertex, z outwards.
pub(super) struct Lens {
    pub front: Surface,
    pub back: Surface,
    pub centre_mm: f64,
    pub index: f64,
}

/// The path of the chief ray through the lens, and the vergence about it.
pub(super) struct Traced {
    /// Direction of the ray on the object side, outwards, in lens axes.
    pub object_side: Vector,
    /// Power at the back surface, perpendicular to the ray on the eye side, in the axes below.
    pub power: PowerMatrix,
    /// First of the two axes of `power`, in lens axes; the second completes it and the ray.
    pub first_axis: Vector,
}

/// A ray at the place where it crosses a surface.
struct Crossing {
    point: Vector,
    /// Unit normal, outwards.
    normal: Vector,
    relief: Relief,
    /// Length of the unnormalised normal: the surface's area per area of its plane.
    stretch: f64,
}

/// Newton's method on a smooth, nearly flat surface doubles its digits at each step: a ray that has
/// not settled after this many never meets it.
const STEPS: usize = 40;

impl Lens {
    /// Traces a ray outwards from the eye through `start` (in the plane of the back vertex).
    pub(crate) fn trace(&self, start: Vector, sight: Vector) -> Result<Traced, OpticsError> {
        let back = cross(&self.back, 0.0, start, sight).ok_or_else(|| missed("back"))?;
        let inside = refract(sight, back.normal, self.index).ok_or_else(reflected)?;
        let front = cross(&self.front, self.centre_mm, back.point, inside)
            .ok_or_else(|| missed("front"))?;
        let object_side = refract(inside, front.normal, 1.0 / self.index).ok_or_else(reflected)?;
        let path_mm = dot(sub(front.point, back.point), inside);
        if path_mm < 0.0 {
            return Err(OpticsError::impossible(format!(
                "the surfaces cross before the point looked through (thickness {path_mm:.2} mm there): raise the \
                 centre thickness"
            )));
        }

        // In the direction of light: into the lens, through it, out of it.
        let first = frame(front.normal, object_side);
        let entering = Bend {
            crossing: &front,
            across: first,
            cos_before: dot(object_side, front.normal),
            cos_after: dot(inside, front.normal),
            index_before: 1.0,
            index_after: self.index,
        };
        let arrived = transfer(
            entering.apply(PowerMatrix::default()),
            path_mm / 1000.0 / self.index,
        )?;

        let second = frame(back.normal, inside);
        let (u_first, u_second) = (times(first, inside), times(second, inside));
        let turned = arrived.turned(dot(u_second, u_first), dot(u_second, first));
        let leaving = Bend {
            crossing: &back,
            across: second,
            cos_before: dot(inside, back.normal),
            cos_after: dot(sight, back.normal),
            index_before: self.index,
            index_after: 1.0,
        };
        Ok(Traced {
            object_side,
            power: leaving.apply(turned),
            first_axis: times(second, sight),
        })
    }
}

/// Refraction of a wavefront at an inclined surface.
struct Bend<'a> {
    crossing: &'a Crossing,
    /// The axis across the plane of incidence, common to both sides.
    across: Vector,
    cos_before: f64,
    cos_after: f64,
    index_before: f64,
    index_after: f64,
}

impl Bend<'_> {
    /// Returns the reduced vergence after the surface, in dioptres, from that before it; both in
    /// axes along and across the plane of incidence and perpendicular to their ray.
    fn apply(&self, before: PowerMatrix) -> PowerMatrix {
        let along = times(self.across, self.crossing.normal);
        let c = &self.crossing.relief.bend;
        // Per metre, and per area of the surface instead of its plane.
        let scale = 1000.0 / self.crossing.stretch;
        let bend = |a: Vector, b: Vector| {
            scale * (a[0] * (c.xx * b[0] + c.xy * b[1]) + a[1] * (c.xy * b[0] + c.yy * b[1]))
        };
        let strength = self.index_after * self.cos_after - self.index_before * self.cos_before;
        let (before_cos, after_cos) = (self.cos_before, self.cos_after);
        PowerMatrix {
            xx: (before.xx * before_cos * before_cos + strength * bend(along, along))
                / (after_cos * after_cos),
            xy: (before.xy * before_cos + strength * bend(along, self.across)) / after_cos,
            yy: before.yy + strength * bend(self.across, self.across),
        }
    }
}

/// Carries a vergence over a reduced distance in metres: `L (I - d L)^-1`.
fn transfer(l: PowerMatrix, reduced_m: f64) -> Result<PowerMatrix, OpticsError> {
    let (a, b, c) = (
        1.0 - reduced_m * l.xx,
        -reduced_m * l.xy,
        1.0 - reduced_m * l.yy,
    );
    let determinant = a * c - b * b;
    if determinant < 1e-9 || a <= 0.0 {
        return Err(OpticsError::impossible(
            "light comes to a focus inside the lens: check the front curve and the thickness",
        ));
    }
    Ok(PowerMatrix {
        xx: (l.xx * c - l.xy * b) / determinant,
        xy: (l.xy * a - l.xx * b) / determinant,
        yy: (l.yy * a - l.xy * b) / determinant,
    })
}

/// Finds where a ray crosses a surface whose vertex lies at `vertex_z`.
fn cross(surface: &Surface, vertex_z: f64, from: Vector, direction: Vector) -> Option<Crossing> {
    let mut along = (vertex_z - from[2]) / direction[2];
    for _ in 0..STEPS {
        let point = add(from, direction, along);
        let relief = surface.relief(point[0], point[1])?;
        let miss = point[2] - vertex_z + relief.depth;
        let slope = direction[2] + relief.slope[0] * direction[0] + relief.slope[1] * direction[1];
        if slope <= 0.0 {
            return None;
        }
        if miss.abs() < 1e-12 {
            let stretch =
                (1.0 + relief.slope[0] * relief.slope[0] + relief.slope[1] * relief.slope[1])
                    .sqrt();
            return Some(Crossing {
                point,
                normal: [
                    relief.slope[0] / stretch,
                    relief.slope[1] / stretch,
                    1.0 / stretch,
                ],
                relief,
                stretch,
            });
        }
        along -= miss / slope;
    }
    None
}

/// Snell's law: the direction after a surface, `relative` being the index after over that before.
fn refract(direction: Vector, normal: Vector, relative: f64) -> Option<Vector> {
    let cos = dot(direction, normal);
    let ratio = 1.0 / relative;
    let square = 1.0 - ratio * ratio * (1.0 - cos * cos);
    if square <= 0.0 {
        return None;
    }
    let push = square.sqrt() - ratio * cos;
    Some([
        ratio * direction[0] + push * normal[0],
        ratio * direction[1] + push * normal[1],
        ratio * direction[2] + push * normal[2],
    ])
}

/// The unit vector across the plane of incidence; any vector across the ray where it meets the
/// surface squarely and there is no such plane.
fn frame(normal: Vector, direction: Vector) -> Vector {
    let across = times(normal, direction);
    let sin = dot(across, across).sqrt();
    if sin > 1e-9 {
        return across.map(|c| c / sin);
    }
    let level = times(direction, [1.0, 0.0, 0.0]);
    let length = dot(level, level).sqrt();
    level.map(|c| c / length)
}

fn missed(side: &str) -> OpticsError {
    OpticsError::impossible(format!(
        "the line of sight does not meet the {side} surface, whose curve is too steep to reach that far from its \
         vertex: choose a flatter form or decentre less"
    ))
}

fn reflected() -> OpticsError {
    OpticsError::impossible(
        "the ray is totally reflected inside the lens at that tilt and curve: choose a flatter form, tilt or decentre less",
    )
}

fn dot(a: Vector, b: Vector) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn times(a: Vector, b: Vector) -> Vector {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

fn sub(a: Vector, b: Vector) -> Vector {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

fn add(a: Vector, b: Vector, times: f64) -> Vector {
    [
        a[0] + times * b[0],
        a[1] + times * b[1],
        a[2] + times * b[2],
    ]
}
