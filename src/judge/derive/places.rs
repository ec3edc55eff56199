//! Places worked out from a job: decentration, blank, near centration.

use crate::job::{EyeFitting, Job};
use crate::trade::eye::Eye;
use crate::trade::optics::blank::{ALLOWANCE_MM, minimum_blank_mm};
use crate::trade::optics::centration::{NearTask, ROTATION_MM, decentration, near_inset_mm};
use crate::trade::optics::prism::LensPoint;
use crate::trade::units::Millimetre;

/// Working distance where none is recorded, mm.
pub(crate) const WORKING_MM: f64 = 400.0;
/// Vertex distance where none is recorded, mm.
pub(crate) const VERTEX_MM: f64 = 12.0;

/// Where the centration distance that a lens is ordered to comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CdSource {
    /// The eye's distance centration distance as recorded.
    Distance,
    /// The eye's near centration distance as recorded.
    Near,
    /// The eye's share of the near PD: worked out.
    NearPd,
}

/// Returns the distance that the prescription for near is for, mm: as recorded with it, else of the
/// nearest task, else 400.
pub(crate) fn prescribed_working_mm(job: &Job) -> f64 {
    (job.prescription.working_mm.map(Millimetre::get))
        .or_else(|| shortest_task_mm(job, 0.0))
        .unwrap_or(WORKING_MM)
}

fn shortest_task_mm(job: &Job, least_mm: f64) -> Option<f64> {
    job.wearer.tasks.as_ref()?.shortest_mm(least_mm)
}

/// Returns the centration distance the lens of an eye is ordered to, mm.
pub fn ordered_cd_mm(job: &Job, eye: Eye) -> Option<f64> {
    ordered_cd(job, eye).map(|(mm, _)| mm)
}

/// Returns the centration distance the lens of an eye is ordered to, mm, and where it comes from.
///
/// A single vision pair for near is ordered to its near centration distances; where none of the eye
/// is recorded, to the eye's share of the near PD.
pub fn ordered_cd(job: &Job, eye: Eye) -> Option<(f64, CdSource)> {
    let fitting = job.fitting.eye(eye);
    if job.lenses.is_near_single_vision() {
        let recorded = fitting.near_cd_mm.map(|cd| (cd.get(), CdSource::Near));
        let share = || Some((near_pd_share_mm(job, eye)?, CdSource::NearPd));
        if let Some(near) = recorded.or_else(share) {
            return Some(near);
        }
    }
    fitting.cd_mm.map(|cd| (cd.get(), CdSource::Distance))
}

/// Returns an eye's share of the recorded near PD, mm: what the other eye's near centration distance
/// leaves of it, else its part in the ratio of the distance centration distances (to a tenth, both
/// shares together the near PD), else half.
pub(crate) fn near_pd_share_mm(job: &Job, eye: Eye) -> Option<f64> {
    let near_pd_mm = job.fitting.near_pd_mm?.get();
    let of = |e: Eye| job.fitting.eye(e);
    if let Some(other) = of(eye.other()).near_cd_mm {
        return Some(near_pd_mm - other.get()).filter(|mm| *mm > 0.0);
    }
    let (Some(right), Some(left)) = (of(Eye::Right).cd_mm, of(Eye::Left).cd_mm) else {
        return Some(near_pd_mm / 2.0);
    };
    let whole = right.get() + left.get();
    if whole <= 0.0 {
        return Some(near_pd_mm / 2.0);
    }
    let right_mm = (near_pd_mm * right.get() / whole * 10.0).round() / 10.0;
    Some(match eye {
        Eye::Right => right_mm,
        Eye::Left => near_pd_mm - right_mm,
    })
}

/// Returns the height that a design is ordered to: of the segment top for segments, else of the
/// pupil or fitting cross.
pub(crate) fn design_height(job: &Job, of: &EyeFitting) -> Option<Millimetre> {
    if job
        .lenses
        .design
        .is_some_and(crate::job::Design::has_segment)
    {
        of.segment_height_mm
    } else {
        of.height_mm
    }
}

/// Returns where the centration point of an eye lies from the boxed centre, mm.
pub(crate) fn centration_point(job: &Job, eye: Eye) -> Option<LensPoint> {
    let f = &job.frame;
    Some(decentration(
        f.a_mm?.get(),
        f.b_mm?.get(),
        f.dbl_mm?.get(),
        ordered_cd_mm(job, eye)?,
        job.fitting.eye(eye).height_mm.map(Millimetre::get),
    ))
}

/// Returns the smallest uncut lens for an eye, mm.
pub(crate) fn blank_mm(job: &Job, eye: Eye) -> Option<f64> {
    let centre = centration_point(job, eye)?;
    Some(minimum_blank_mm(
        job.frame.ed_mm?.get(),
        centre,
        ALLOWANCE_MM,
    ))
}

/// Returns the near centration distance worked out for an eye, mm.
pub(crate) fn near_cd_mm(job: &Job, eye: Eye) -> Option<f64> {
    let cd_mm = job.fitting.eye(eye).cd_mm?.get();
    let vertex_mm = job
        .fitting
        .eye(eye)
        .vertex_mm
        .or(job.prescription.tested_vertex_mm)
        .map_or(VERTEX_MM, Millimetre::get);
    let task = NearTask {
        working_mm: job
            .prescription
            .working_mm
            .map_or(WORKING_MM, Millimetre::get),
        vertex_mm,
        rotation_mm: ROTATION_MM,
        power_d: job
            .prescription
            .eye(eye)
            .rx()
            .map_or(0.0, |rx| rx.matrix().xx),
    };
    near_inset_mm(cd_mm, task).ok().map(|inset| cd_mm - inset)
}

/// Returns how far below the distance centre the near point lies, mm: 8 for segments, else 10.
pub(crate) fn reading_drop_mm(job: &Job) -> f64 {
    if job
        .lenses
        .design
        .is_some_and(crate::job::Design::has_segment)
    {
        8.0
    } else {
        10.0
    }
}
