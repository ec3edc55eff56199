//! Places worked out from a job: decentration, blank, near centration.

use crate::eye::Eye;
use crate::job::{EyeFitting, Job};
use crate::optics::blank::{ALLOWANCE_MM, minimum_blank_mm};
use crate::optics::centration::{NearTask, ROTATION_MM, decentration, near_inset_mm};
use crate::optics::prism::Place;
use crate::units::Millimetre;

/// Working distance where none is recorded, mm.
pub const WORKING_MM: f64 = 400.0;
/// Vertex distance where none is recorded, mm.
pub const VERTEX_MM: f64 = 12.0;

/// Returns the centration distance the lens of an eye is ordered to, mm.
pub fn ordered_cd_mm(job: &Job, eye: Eye) -> Option<f64> {
    let fitting = job.fitting.eye(eye);
    let near = if job.lenses.is_near_single_vision() {
        fitting.near_cd_mm
    } else {
        None
    };
    near.or(fitting.cd_mm).map(Millimetre::get)
}

/// Returns the height that a design is ordered to: of the segment top for segments, else of the
/// pupil or fitting cross.
pub fn design_height(job: &Job, of: &EyeFitting) -> Option<Millimetre> {
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
pub fn centration_point(job: &Job, eye: Eye) -> Option<Place> {
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
pub fn blank_mm(job: &Job, eye: Eye) -> Option<f64> {
    let centre = centration_point(job, eye)?;
    Some(minimum_blank_mm(
        job.frame.ed_mm?.get(),
        centre,
        ALLOWANCE_MM,
    ))
}

/// Returns the near centration distance worked out for an eye, mm.
pub fn near_cd_mm(job: &Job, eye: Eye) -> Option<f64> {
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
