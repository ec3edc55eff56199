//! The readings of a pair against what was ordered, for the table of the verification.

use crate::eye::{Eye, PerEye};
use crate::gate::Practice;
use crate::job::Job;
use crate::tolerance::{EyeValues, Report, compare};

/// Compares the readings with the order; or says what is missing for that.
///
/// # Errors
/// A sentence that says what to enter first.
pub fn report(job: &Job, practice: &Practice) -> Result<Report, String> {
    let Some(design) = job.lenses.design else {
        return Err("Enter the design of the lenses: tolerances depend on it.".to_owned());
    };
    let measured = PerEye::from_fn(|eye| measured(job, eye));
    let ordered = PerEye::from_fn(|eye| ordered(job, eye));
    if measured.right.is_none() && measured.left.is_none() {
        return Err("Enter what the focimeter reads; each reading is set against its tolerance here.".to_owned());
    }
    compare(practice.standard, design.lens_kind(), &ordered, &measured, practice.options)
        .map_err(|e| e.to_string())
}

/// What the focimeter should read: as the laboratory states it, else as ordered, else as prescribed.
fn ordered(job: &Job, eye: Eye) -> Option<EyeValues> {
    let stated = job.lenses.laboratory_powers.as_ref().map(|p| p.eye(eye)).filter(|p| p.sphere_d.is_some());
    let power = stated.or_else(|| {
        job.lenses.powers.as_ref().map(|p| p.eye(eye)).filter(|p| p.sphere_d.is_some())
    });
    let prescribed = job.prescription.eye(eye);
    let (rx, addition, base_in, base_up) = match power {
        Some(p) => (p.rx()?, p.addition_d, p.base_in_delta, p.base_up_delta),
        None => (
            prescribed.rx()?,
            prescribed.addition_d,
            prescribed.base_in_delta,
            prescribed.base_up_delta,
        ),
    };
    let fitting = job.fitting.eye(eye);
    let cd = if job.lenses.is_near_single_vision() { fitting.near_cd_mm.or(fitting.cd_mm) } else { fitting.cd_mm };
    let mut values = EyeValues::of(rx);
    values.addition_d = addition.map(|v| v.get());
    values.base_in_delta = base_in.map(|v| v.get());
    values.base_up_delta = base_up.map(|v| v.get());
    values.cd_mm = cd.map(|v| v.get());
    values.height_mm = fitting.height_mm.map(|v| v.get());
    Some(values)
}

fn measured(job: &Job, eye: Eye) -> Option<EyeValues> {
    let reading = job.readings.eye(eye);
    let mut values = EyeValues::of(reading.rx()?);
    values.addition_d = reading.addition_d.map(|v| v.get());
    values.base_in_delta = reading.base_in_delta.map(|v| v.get());
    values.base_up_delta = reading.base_up_delta.map(|v| v.get());
    values.cd_mm = reading.cd_mm.map(|v| v.get());
    values.height_mm = reading.height_mm.map(|v| v.get());
    Some(values)
}
