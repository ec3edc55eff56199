//! Lowering the optical centres of a tilted pair, so that the axis of each lens passes through the
//! centre of rotation of the eye again: about 1 mm for 2 degrees.

use crate::job::{Compensator, Design, Job};
use crate::judge::derive::compensates::who_compensates;
use crate::judge::derive::compensation::worn_at;
use crate::judge::derive::places::{VERTEX_MM, lowered_mm};
use crate::judge::derive::powers::fitted_vertex_mm;
use crate::trade::eye::Eye;
use crate::trade::optics::Rx;
use crate::trade::optics::centration::{ROTATION_MM, drop_for_tilt_mm};
use crate::trade::tolerance::DUST;

/// The step in which centres are lowered, mm.
const STEP_MM: f64 = 0.5;

/// Returns how far the optical centres of a single vision pair are to be ordered below the pupils for
/// its tilt, mm, to half a millimetre; `None` where the tilt is not recorded, none, the other way or compensated for,
/// or the lenses are no single vision ones.
pub(crate) fn for_tilt_mm(job: &Job) -> Option<f64> {
    let is_open = job.lenses.design == Some(Design::SingleVision)
        && who_compensates(job).tilt == Compensator::Nobody;
    let tilt = job.fitting.pantoscopic_deg.filter(|_| is_open)?;
    let vertex_mm = fitted_vertex_mm(job).unwrap_or(VERTEX_MM);
    let drop_mm = drop_for_tilt_mm(tilt.get(), vertex_mm, ROTATION_MM).ok()?;
    let lowered_mm = (drop_mm / STEP_MM).round() * STEP_MM;
    (lowered_mm > 0.0).then_some(lowered_mm)
}

/// What wearing a lens askew changes of its power, dioptres.
#[derive(Debug, Clone, Copy)]
pub(crate) struct WornChange {
    /// The largest principal power of the difference.
    pub power_d: f64,
    /// The cylinder of the difference.
    pub cylinder_d: f64,
}

impl WornChange {
    /// From a power to what is worn of it.
    pub(crate) fn between(rx: Rx, worn: Rx) -> Self {
        let change = worn.matrix() - rx.matrix();
        Self {
            power_d: change.largest_d(),
            cylinder_d: change.cylinder_size_d(),
        }
    }

    /// The larger of both, dioptres.
    pub(crate) fn largest_d(self) -> f64 {
        self.power_d.max(self.cylinder_d)
    }
}

/// Returns how far below the pupils centres would help an eye whose power is changed by `now`, mm, and
/// what would be left of the change; `None` where it would not help or is ordered already.
pub(crate) fn helps(job: &Job, eye: Eye, rx: Rx, now: WornChange) -> Option<(f64, WornChange)> {
    let lowered = for_tilt_mm(job).filter(|mm| (mm - lowered_mm(job)).abs() >= DUST)?;
    let worn = worn_at(job, eye, rx, lowered)?;
    let left = WornChange::between(rx, worn.rx);
    (left.largest_d() < now.largest_d()).then_some((lowered, left))
}
