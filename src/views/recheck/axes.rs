//! Limits that depend on the power: of an axis, of a centration distance, of a vertex distance.

use crate::practice::suspects::{Suspect, Suspects};
use crate::trade::eye::Eye;
use crate::trade::optics::Rx;
use crate::trade::optics::prism::{LensPoint, prism_at};
use crate::trade::tolerance::DUST;

/// Returns from which turn on the axis is suspected, degrees, by the larger of two cylinders in
/// minus form; `None` where neither is large enough to be judged.
///
/// A strong cylinder, or one whose axis is oblique before or after, is judged strictly.
pub fn axis_limit(limits: &Suspects, old: Rx, new: Rx) -> Option<f64> {
    let size = old.cylinder_d.abs().max(new.cylinder_d.abs());
    if size + DUST < limits.get(Suspect::AxisFrom) {
        return None;
    }
    let is_strong = size + DUST >= limits.get(Suspect::AxisStrongFrom);
    let limit = if is_strong || is_oblique(limits, old) || is_oblique(limits, new) {
        Suspect::AxisStrong
    } else {
        Suspect::Axis
    };
    Some(limits.get(limit))
}

fn is_oblique(limits: &Suspects, rx: Rx) -> bool {
    let from_diagonal = (rx.axis_deg.rem_euclid(90.0) - 45.0).abs();
    rx.cylinder_d.abs() > DUST && from_diagonal <= limits.get(Suspect::Oblique) + DUST
}

/// Returns from which change on a centration distance is suspected, mm: the fixed limit, or less
/// where the lens makes half a prism dioptre of less (Prentice's rule with the power matrix).
pub fn centration_limit_mm(limits: &Suspects, eye: Eye, rx: Option<Rx>) -> f64 {
    let fixed = limits.get(Suspect::Centration);
    let Some(rx) = rx else { return fixed };
    let one = LensPoint {
        in_mm: 1.0,
        up_mm: 0.0,
    };
    let prism = prism_at(eye, rx, one);
    let per_mm = prism.base_in_delta.hypot(prism.base_up_delta);
    if per_mm * fixed > limits.get(Suspect::CentrationPrism) {
        limits.get(Suspect::CentrationPrism) / per_mm
    } else {
        fixed
    }
}

/// Returns from which change on a vertex distance is suspected, mm, by the strongest meridian.
pub fn vertex_limit_mm(limits: &Suspects, rx: Option<Rx>) -> f64 {
    let strongest = rx.map_or(0.0, |rx| rx.strongest_d().abs()) + DUST;
    let limit = if strongest >= limits.get(Suspect::VertexStrongFrom) {
        Suspect::VertexStrong
    } else if strongest >= limits.get(Suspect::VertexMiddleFrom) {
        Suspect::VertexMiddle
    } else {
        Suspect::VertexWeak
    };
    limits.get(limit)
}
