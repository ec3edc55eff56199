//! Where the optical centres belong in a frame: decentration, near inset, drop for tilt.
//!
//! Boxed system of measurement (ISO 8624): `a` and `b` are the sides of the box around a lens
//! shape, `dbl` the distance between the boxes.

use super::OpticsError;
use super::prism::LensPoint;

/// Usual distance from the cornea to the centre of rotation of the eye, in millimetres.
///
/// Source: Bennett and Rabbetts, Clinical Visual Optics (13 to 14.5 mm in adults).
pub(crate) const ROTATION_MM: f64 = 13.5;

/// Returns the distance between the boxed centres in millimetres: `a + dbl`.
#[must_use]
pub fn frame_centre_distance_mm(a_mm: f64, dbl_mm: f64) -> f64 {
    a_mm + dbl_mm
}

/// Returns how far the optical centre lies from the boxed centre: `in = (a + dbl)/2 - cd`,
/// `up = height - b/2` (0 when no height was measured), in millimetres.
///
/// `cd_mm` is the eye's own centration distance, `height_mm` is measured from the lowest tangent of
/// the lens shape. Source: boxed system, ISO 8624; Jalie, Ophthalmic Lenses and Dispensing.
#[must_use]
pub fn decentration(
    a_mm: f64,
    b_mm: f64,
    dbl_mm: f64,
    cd_mm: f64,
    height_mm: Option<f64>,
) -> LensPoint {
    LensPoint {
        in_mm: frame_centre_distance_mm(a_mm, dbl_mm) / 2.0 - cd_mm,
        up_mm: height_mm.map_or(0.0, |h| h - b_mm / 2.0),
    }
}

/// One eye's near task, for [`near_inset_mm`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NearTask {
    /// Distance from the object to the spectacle plane, mm.
    pub working_mm: f64,
    /// Distance from the back vertex to the cornea, mm.
    pub vertex_mm: f64,
    /// Distance from the cornea to the centre of rotation, mm ([`ROTATION_MM`]).
    pub rotation_mm: f64,
    /// Horizontal power of the distance lens, dioptres.
    pub power_d: f64,
}

impl NearTask {
    /// Returns the task for a lens whose own optical centre lies at the near point, as that of single
    /// vision for near does: the eye looks through the centre, so the power counts for nothing and
    /// the inset is that of like triangles, `cd / (1 + w/s)`.
    #[must_use]
    pub fn centred_near(self) -> Self {
        Self {
            power_d: 0.0,
            ..self
        }
    }
}

/// Returns by how much an eye's line of sight meets the lens nearer to the nose at near than at
/// distance, in millimetres: `cd / (1 + w/s - w F)`, with s from the lens to the centre of rotation
/// and w to the object, both in metres inside.
///
/// Source: Ellerbrock, "A new method of determining near centration" (1948), as given in Brooks and
/// Borish, System for Ophthalmic Dispensing.
///
/// # Errors
/// [`OpticsError::Impossible`] when a plus lens is so strong that the eye cannot turn to the object
/// through it, or a distance is not above zero.
pub fn near_inset_mm(cd_mm: f64, task: NearTask) -> Result<f64, OpticsError> {
    let s_mm = task.vertex_mm + task.rotation_mm;
    let parts = 1.0 + task.working_mm / s_mm - task.working_mm / 1000.0 * task.power_d;
    if s_mm > 0.0 && task.working_mm > 0.0 && parts > 1e-6 && parts.is_finite() {
        Ok(cd_mm / parts)
    } else {
        Err(OpticsError::impossible(format!(
            "no line of sight reaches an object at {:.0} mm through {:+.2} D, {s_mm:.1} mm before the centre of \
             rotation: check the power and the distances",
            task.working_mm, task.power_d
        )))
    }
}

/// Returns how far below the pupil centre the optical centre belongs so that the optical axis of a
/// lens tilted by `pantoscopic_deg` passes through the centre of rotation: `s tan(tilt)`, mm.
///
/// Source: Jalie, Ophthalmic Lenses and Dispensing (centre-of-rotation rule; about 1 mm for 2
/// degrees). Negative for a lens tilted the other way.
///
/// # Errors
/// [`OpticsError::OutOfRange`] for a tilt that is not within 60 degrees either way.
pub fn drop_for_tilt_mm(
    pantoscopic_deg: f64,
    vertex_mm: f64,
    rotation_mm: f64,
) -> Result<f64, OpticsError> {
    super::error::within(
        pantoscopic_deg,
        "pantoscopic angles",
        -60.0,
        60.0,
        "degrees",
    )?;
    super::error::finite((vertex_mm + rotation_mm) * pantoscopic_deg.to_radians().tan())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn without_power_the_inset_is_similar_triangles() {
        let task = NearTask {
            working_mm: 400.0,
            vertex_mm: 12.0,
            rotation_mm: 13.0,
            power_d: 0.0,
        };
        let inset = near_inset_mm(32.0, task).unwrap();
        assert!((inset - 32.0 * 25.0 / 425.0).abs() < 1e-12);
    }

    /// Worked by hand: 32 mm, 400 mm before the lens, 25.5 mm behind it: 32 * 25.5 / 425.5.
    #[test]
    fn a_lens_centred_at_near_has_the_inset_of_like_triangles_whatever_its_power() {
        for power_d in [-12.0, 0.0, 8.5] {
            let task = NearTask {
                working_mm: 400.0,
                vertex_mm: 12.0,
                rotation_mm: ROTATION_MM,
                power_d,
            };
            let inset = near_inset_mm(32.0, task.centred_near()).unwrap();
            assert!((inset - 1.917_743_8).abs() < 1e-6, "{power_d}: {inset}");
        }
    }

    #[test]
    fn two_degrees_of_tilt_are_about_a_millimetre_of_drop() {
        let drop = drop_for_tilt_mm(2.0, 13.5, ROTATION_MM).unwrap();
        assert!((drop - 1.0).abs() < 0.1);
    }
}
