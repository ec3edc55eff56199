//! The prism of a pair: where each eye looks through, what prism it meets there, and what the two
//! eyes' prisms come to together.

use crate::trade::eye::Eye;
use crate::trade::optics::power::{PowerMatrix, Rx};

use super::standard::PrismPower;
use super::values::EyeValues;

/// The prism one eye meets at the ordered point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct EyePrism {
    pub(crate) base_in_delta: f64,
    pub(crate) base_up_delta: f64,
    /// From where the centre was found, not from a reading.
    pub(crate) worked_out: bool,
}

/// Returns the prism at the ordered point: as read, or else from where the optical centre was found
/// through the measured power. `None` when neither was read.
pub(crate) fn measured(
    eye: Eye,
    ordered: &EyeValues,
    measured: &EyeValues,
    power: PowerMatrix,
) -> Option<EyePrism> {
    if let Some((base_in_delta, base_up_delta)) = measured.prism() {
        return Some(EyePrism {
            base_in_delta,
            base_up_delta,
            worked_out: false,
        });
    }
    let in_mm = difference(measured.cd_mm, ordered.cd_mm);
    let up_mm = difference(ordered.height_mm, measured.height_mm);
    if in_mm.is_none() && up_mm.is_none() {
        return None;
    }
    let (base_in_delta, base_up_delta) =
        prentice(eye, power, in_mm.unwrap_or(0.0), up_mm.unwrap_or(0.0));
    Some(EyePrism {
        base_in_delta,
        base_up_delta,
        worked_out: true,
    })
}

/// Fills in the prism component that was not read from where the optical centre was found, where the
/// other component was read: a centre that lies off its place is not overlooked for it. What neither
/// a prism nor a place says stays absent. Prism dioptres by Prentice's rule through the read power.
pub(crate) fn complete(eye: Eye, ordered: &EyeValues, read: &mut EyeValues) {
    if read.base_in_delta.is_some() == read.base_up_delta.is_some() {
        return;
    }
    let in_mm = difference(read.cd_mm, ordered.cd_mm);
    let up_mm = difference(ordered.height_mm, read.height_mm);
    let power = Rx::new(
        read.sphere_d,
        read.cylinder_d,
        read.axis_deg.unwrap_or(180.0),
    )
    .matrix();
    let (base_in, base_up) = prentice(eye, power, in_mm.unwrap_or(0.0), up_mm.unwrap_or(0.0));
    match (read.base_in_delta, in_mm, up_mm) {
        (None, Some(_), _) => read.base_in_delta = Some(base_in),
        (Some(_), _, Some(_)) => read.base_up_delta = Some(base_up),
        _ => {}
    }
}

fn difference(a: Option<f64>, b: Option<f64>) -> Option<f64> {
    Some(a? - b?)
}

/// Prentice's rule, base = -F r, for a point so far nasally and above the optical centre (mm).
///
/// Horizontal distances and bases are counted towards the nose, the matrix across the wearer's
/// face: for the left eye the two run opposite ways.
pub(crate) fn prentice(eye: Eye, power: PowerMatrix, in_mm: f64, up_mm: f64) -> (f64, f64) {
    let nasal = eye.nasal_sign();
    let (x_cm, y_cm) = (nasal * in_mm / 10.0, up_mm / 10.0);
    let base_x = -(power.xx * x_cm + power.xy * y_cm);
    let base_y = -(power.xy * x_cm + power.yy * y_cm);
    (nasal * base_x, base_y)
}

/// Horizontal: bases in add up.
pub(crate) fn horizontal(right: (f64, f64), left: (f64, f64)) -> f64 {
    right.0 + left.0
}

/// Vertical: bases up of the two eyes cancel.
pub(crate) fn vertical(right: (f64, f64), left: (f64, f64)) -> f64 {
    right.1 - left.1
}

/// Returns the power that decides the pair's prism limit, of the two lenses' powers along the
/// direction considered.
pub(crate) fn deciding_power(choice: PrismPower, right_d: f64, left_d: f64) -> f64 {
    match choice {
        PrismPower::Weaker => right_d.abs().min(left_d.abs()),
        PrismPower::Stronger => right_d.abs().max(left_d.abs()),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::float_cmp, reason = "tests")]
mod tests {
    use super::*;

    #[test]
    fn a_plus_lens_looked_through_nasally_has_its_base_out_on_either_side() {
        for eye in Eye::BOTH {
            let (base_in, base_up) = prentice(eye, Rx::sphere(4.0).matrix(), 5.0, 0.0);
            assert!((base_in + 2.0).abs() < 1e-12, "{base_in}");
            assert!(base_up.abs() < 1e-12);
        }
    }

    #[test]
    fn an_oblique_cylinder_gives_mirrored_vertical_prism_in_mirrored_eyes() {
        let right = prentice(Eye::Right, Rx::new(1.0, -2.0, 45.0).matrix(), 3.0, 0.0);
        let left = prentice(Eye::Left, Rx::new(1.0, -2.0, 135.0).matrix(), 3.0, 0.0);
        assert!((right.0 - left.0).abs() < 1e-12);
        assert!((right.1 - left.1).abs() < 1e-12);
        assert!(right.1.abs() > 0.2);
    }
}
