//! The accuracy budget of a job: how far each measurement may be out.

use crate::eye::PerEye;
use crate::gate::Practice;
use crate::job::Job;
use crate::tolerance::budget::{Basis, Budget, Places, ThinLens, budget, places};
use crate::units::{Degree, Millimetre};

use super::lens::material;
use super::verification::{lens_kind, ordered_pair};

fn basis(job: &Job, practice: &Practice) -> Basis {
    Basis {
        standard: practice.standard,
        kind: lens_kind(job),
        options: practice.options,
        ordered: ordered_pair(job),
        fitted_vertex_mm: PerEye::from_fn(|eye| {
            job.fitting.eye(eye).vertex_mm.map(Millimetre::get)
        }),
        pantoscopic_deg: job.fitting.pantoscopic_deg.map(Degree::get),
        face_form_deg: job.fitting.face_form_deg.map(Degree::get),
        index: material(job).map(|m| m.n_d),
    }
}

/// Returns how far the centration distances and heights may be out.
pub fn place_budget(job: &Job, practice: &Practice) -> Option<Places> {
    places(&basis(job, practice)).ok()
}

/// Returns how far every measurement may be out.
pub fn full_budget(job: &Job, practice: &Practice) -> Option<Budget> {
    budget(&basis(job, practice), &ThinLens).ok()
}
