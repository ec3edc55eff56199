//! Places worked out from a job: decentration, blank, near centration.

use crate::job::{Design, EyeFitting, Job, PowersAs};
use crate::judge::derive::powers::is_intermediate;
use crate::trade::eye::Eye;
use crate::trade::optics::centration::{NearTask, ROTATION_MM, decentration, near_inset_mm};
use crate::trade::optics::prism::LensPoint;
use crate::trade::units::Millimetre;

/// Working distance where none is recorded, mm.
pub(crate) const WORKING_MM: f64 = 400.0;
/// Working distance of an intermediate pair where none is recorded, mm.
pub(crate) const INTERMEDIATE_MM: f64 = 700.0;
/// The nearest task that an intermediate pair is for, mm.
const INTERMEDIATE_LEAST_MM: f64 = 500.0;
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
    /// Worked out from the distance centration distance and the distance of the task.
    WorkedOut,
}

impl CdSource {
    /// Returns what is said of it where it is written; nothing for a distance centration distance.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Distance => "",
            Self::Near => "recorded",
            Self::NearPd => "worked out from the near PD",
            Self::WorkedOut => "worked out",
        }
    }
}

/// Returns the distance from the task to the spectacle plane that a pair is for, mm.
pub(crate) fn working_mm(job: &Job) -> f64 {
    let adapted = job.lenses.powers.as_ref().and_then(|p| p.distance_mm);
    if is_intermediate(job) {
        return adapted
            .map(Millimetre::get)
            .or_else(|| shortest_task_mm(job, INTERMEDIATE_LEAST_MM))
            .unwrap_or(INTERMEDIATE_MM);
    }
    adapted
        .filter(|_| job.lenses.powers_as() == Some(PowersAs::AdaptedToTheTask))
        .map_or_else(|| prescribed_working_mm(job), Millimetre::get)
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

/// Whether the lenses of a pair have their own centres at a near or intermediate distance.
pub(crate) fn is_centred_near(job: &Job) -> bool {
    job.lenses.is_near_single_vision() || is_intermediate(job)
}

/// Returns the centration distance the lens of an eye is ordered to, mm.
pub fn ordered_cd_mm(job: &Job, eye: Eye) -> Option<f64> {
    ordered_cd(job, eye).map(|(mm, _)| mm)
}

/// Returns the centration distance the lens of an eye is ordered to, mm, and where it comes from.
///
/// A single vision pair for near or intermediate is ordered to its near centration distances, never
/// to a distance one: as recorded; else the eye's share of the near PD; else worked out from the
/// distance centration distance and the distance of the task, to a tenth. `None` where that cannot
/// be done.
pub fn ordered_cd(job: &Job, eye: Eye) -> Option<(f64, CdSource)> {
    let fitting = job.fitting.eye(eye);
    if is_centred_near(job) {
        let recorded = fitting.near_cd_mm.map(|cd| (cd.get(), CdSource::Near));
        let share = || Some((near_pd_share_mm(job, eye)?, CdSource::NearPd));
        let tenth = |mm: f64| (mm * 10.0).round() / 10.0;
        let worked_out = || Some((tenth(near_cd_mm(job, eye)?), CdSource::WorkedOut));
        return recorded.or_else(share).or_else(worked_out);
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
    if job.lenses.design.is_some_and(Design::has_segment) {
        of.segment_height_mm
    } else {
        of.height_mm
    }
}

/// Returns the height at which the optical centre of an eye's lens is ordered, mm above the lowest
/// tangent of the lens shape: of single vision lenses lowered from the pupil by what is recorded.
pub(crate) fn ordered_height_mm(job: &Job, eye: Eye) -> Option<f64> {
    let pupil_mm = job.fitting.eye(eye).height_mm?.get();
    Some(pupil_mm - lowered_mm(job))
}

/// Returns how far the optical centres are ordered below the pupils, mm; 0 for any but single vision
/// lenses.
pub(crate) fn lowered_mm(job: &Job) -> f64 {
    let is_single = job.lenses.design == Some(Design::SingleVision);
    let lowered = job.lenses.lowered_mm.filter(|_| is_single);
    lowered.map_or(0.0, Millimetre::get)
}

/// Returns where the centration point of an eye lies from the boxed centre, mm.
pub(crate) fn centration_point(job: &Job, eye: Eye) -> Option<LensPoint> {
    let f = &job.frame;
    Some(decentration(
        f.a_mm?.get(),
        f.b_mm?.get(),
        f.dbl_mm?.get(),
        ordered_cd_mm(job, eye)?,
        ordered_height_mm(job, eye),
    ))
}

/// Returns the near centration distance worked out for an eye, mm, from its distance one.
///
/// Where the lens's own centre lies at the near point its power turns nothing there and counts for
/// nothing.
pub(crate) fn near_cd_mm(job: &Job, eye: Eye) -> Option<f64> {
    let cd_mm = job.fitting.eye(eye).cd_mm?.get();
    let vertex_mm = job
        .fitting
        .eye(eye)
        .vertex_mm
        .or(job.prescription.tested_vertex_mm)
        .map_or(VERTEX_MM, Millimetre::get);
    let task = NearTask {
        working_mm: working_mm(job),
        vertex_mm,
        rotation_mm: ROTATION_MM,
        power_d: (job.prescription.eye(eye).rx())
            .filter(|_| !is_centred_near(job))
            .map_or(0.0, |rx| rx.matrix().xx),
    };
    near_inset_mm(cd_mm, task).ok().map(|inset| cd_mm - inset)
}

/// Returns how far below the distance centre the near point lies, mm: 8 for segments, else 10.
pub(crate) fn reading_drop_mm(job: &Job) -> f64 {
    if job.lenses.design.is_some_and(Design::has_segment) {
        8.0
    } else {
        10.0
    }
}
