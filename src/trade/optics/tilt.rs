//! Thin lenses worn tilted, looked through at their pole: the power in effect, and what to order.
//!
//! With i the angle between the line of sight and the lens normal, `sin i = n sin i'` and
//! `k = (n cos i' - cos i)/(n - 1)`: along the plane of incidence the power becomes
//! `k Fuu / cos^2 i`, across it `k Fvv`, crossed `k Fuv / cos i`. Sources: Coddington's equations;
//! for a toric lens Blendowske, "Oblique central refraction in tilted spherocylindrical lenses",
//! Optometry and Vision Science 79 (2002) 68-73. For a sphere it is Martin's rule to third order.

use super::error::{check_index, within};
use super::{OpticsError, PowerMatrix, Rx};
use crate::trade::eye::Eye;

/// How a lens is tilted before the eye, in degrees.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Tilt {
    /// Bottom of the lens towards the face.
    pub pantoscopic_deg: f64,
    /// Temporal edge of the lens towards the face.
    pub face_form_deg: f64,
}

/// A vector in head axes: x to the right of someone facing the wearer, y up, z out of the eye.
pub(super) type Vector = [f64; 3];

impl Tilt {
    /// Returns the lens axes (x, y, normal towards the object) in head axes: turned first about the
    /// vertical by the face-form angle, then about the head's horizontal by the pantoscopic angle.
    pub(super) fn lens_axes(self, eye: Eye) -> [Vector; 3] {
        let (sin_f, cos_f) = (eye.nasal_sign() * self.face_form_deg)
            .to_radians()
            .sin_cos();
        let (sin_p, cos_p) = self.pantoscopic_deg.to_radians().sin_cos();
        [
            [cos_f, -sin_f * sin_p, sin_f * cos_p],
            [0.0, cos_p, sin_p],
            [-sin_f, -cos_f * sin_p, cos_f * cos_p],
        ]
    }

    /// Refuses angles at which no spectacle lens is worn.
    pub(super) fn check(self) -> Result<(), OpticsError> {
        within(
            self.pantoscopic_deg,
            "pantoscopic angles",
            -60.0,
            60.0,
            "degrees",
        )?;
        within(
            self.face_form_deg,
            "face-form angles",
            -60.0,
            60.0,
            "degrees",
        )
    }
}

/// The plane of incidence of a line of sight straight ahead, and what a tilt does in it.
struct Incidence {
    /// Direction of the plane of incidence in lens axes, as cosine and sine.
    in_lens: (f64, f64),
    /// The same direction in head axes.
    in_head: (f64, f64),
    /// Factor of the power along the plane of incidence.
    along: f64,
    /// Factor of the crossed term.
    crossed: f64,
    /// Factor of the power across the plane of incidence.
    across: f64,
}

impl Incidence {
    fn of(eye: Eye, index: f64, tilt: Tilt) -> Result<Self, OpticsError> {
        tilt.check()?;
        check_index(index)?;
        let [x, y, normal] = tilt.lens_axes(eye);
        let cos_i = normal[2];
        let sin_i = normal[0].hypot(normal[1]);
        let (in_lens, in_head) = if sin_i > 0.0 {
            (
                (x[2] / sin_i, y[2] / sin_i),
                (-normal[0] / sin_i, -normal[1] / sin_i),
            )
        } else {
            ((1.0, 0.0), (1.0, 0.0))
        };
        let cos_refracted = (1.0 - (sin_i / index).powi(2)).sqrt();
        let k = (index * cos_refracted - cos_i) / (index - 1.0);
        Ok(Self {
            in_lens,
            in_head,
            along: k / (cos_i * cos_i),
            crossed: k / cos_i,
            across: k,
        })
    }
}

/// Returns the power that a thin lens has as worn, in minus-cylinder form.
///
/// # Errors
/// [`OpticsError::OutOfRange`] for angles beyond 60 degrees or an index not above 1.
pub fn oblique(eye: Eye, rx: Rx, index: f64, tilt: Tilt) -> Result<Rx, OpticsError> {
    oblique_matrix(eye, rx.matrix(), index, tilt).map(PowerMatrix::rx)
}

/// The same of a power as a matrix, for those who ask often.
///
/// # Errors
/// As [`oblique`].
pub(crate) fn oblique_matrix(
    eye: Eye,
    power: PowerMatrix,
    index: f64,
    tilt: Tilt,
) -> Result<PowerMatrix, OpticsError> {
    let i = Incidence::of(eye, index, tilt)?;
    let f = power.turned(i.in_lens.0, i.in_lens.1);
    let worn = PowerMatrix {
        xx: f.xx * i.along,
        xy: f.xy * i.crossed,
        yy: f.yy * i.across,
    };
    Ok(worn.turned(i.in_head.0, -i.in_head.1))
}

/// Returns the power to order so that a thin lens has `wanted` as worn, in minus-cylinder form: the
/// inverse of [`oblique`].
///
/// # Errors
/// As [`oblique`].
pub fn oblique_compensate(eye: Eye, wanted: Rx, index: f64, tilt: Tilt) -> Result<Rx, OpticsError> {
    let i = Incidence::of(eye, index, tilt)?;
    let f = wanted.matrix().turned(i.in_head.0, i.in_head.1);
    let ordered = PowerMatrix {
        xx: f.xx / i.along,
        xy: f.xy / i.crossed,
        yy: f.yy / i.across,
    };
    Ok(ordered.turned(i.in_lens.0, -i.in_lens.1).rx())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tilted_sphere_follows_martins_rule_to_third_order() {
        let tilt = Tilt {
            pantoscopic_deg: 8.0,
            face_form_deg: 0.0,
        };
        let rx = oblique(Eye::Left, Rx::sphere(-6.0), 1.5, tilt).unwrap();
        let (sin, tan) = (8f64.to_radians().sin(), 8f64.to_radians().tan());
        let sphere = -6.0 * (1.0 + sin * sin / 3.0);
        assert!((rx.sphere_d - sphere).abs() < 0.002);
        assert!((rx.cylinder_d - sphere * tan * tan).abs() < 0.002);
        assert!((rx.axis_deg - 180.0).abs() < 1e-9);
    }

    #[test]
    fn lens_axes_stay_square() {
        let tilt = Tilt {
            pantoscopic_deg: 12.0,
            face_form_deg: 17.0,
        };
        let axes = tilt.lens_axes(Eye::Right);
        for (i, a) in axes.iter().enumerate() {
            for (j, b) in axes.iter().enumerate() {
                let dot: f64 = a.iter().zip(b).map(|(p, q)| p * q).sum();
                assert!((dot - f64::from(u8::from(i == j))).abs() < 1e-15);
            }
        }
    }
}
