//! Lowering the optical centres of a tilted pair, so that the axis of each lens passes through the
//! centre of rotation of the eye again: about 1 mm for 2 degrees.

use crate::job::{Compensator, Design, Job};
use crate::judge::derive::compensates::who_compensates;
use crate::judge::derive::places::VERTEX_MM;
use crate::judge::derive::powers::fitted_vertex_mm;
use crate::trade::optics::centration::{ROTATION_MM, drop_for_tilt_mm};

/// The step in which centres are lowered, mm.
const STEP_MM: f64 = 0.5;

/// Returns how far the optical centres of a single vision pair are to be ordered below the pupils for
/// its tilt, mm, to half a millimetre; `None` where the tilt is not recorded, none or compensated for,
/// or the lenses are no single vision ones.
pub(crate) fn for_tilt_mm(job: &Job) -> Option<f64> {
    let is_open = job.lenses.design == Some(Design::SingleVision)
        && who_compensates(job).tilt == Compensator::Nobody;
    let tilt = job.fitting.pantoscopic_deg.filter(|_| is_open)?;
    let vertex_mm = fitted_vertex_mm(job).unwrap_or(VERTEX_MM);
    let drop_mm = drop_for_tilt_mm(tilt.get(), vertex_mm, ROTATION_MM).ok()?;
    let lowered_mm = (drop_mm / STEP_MM).round() * STEP_MM;
    (lowered_mm.abs() > 0.0).then_some(lowered_mm)
}
