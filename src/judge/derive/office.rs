//! Where an office pair is clear.

use chrono::NaiveDate;

use crate::job::{Design, Job};
use crate::judge::derive::powers::powered_eyes;
use crate::trade::optics::clear_range::{mean_amplitude_d, office_range};
use crate::trade::units::{Dioptre, Millimetre};

/// Returns where an office pair is clear for both eyes, in centimetres and in words: from the nearest,
/// with the mean accommodation of the age on a day, to the furthest, by the power drop or as ordered.
/// `None` for other designs, and where nothing of it is known.
pub(crate) fn clear_range_in_words(job: &Job, on: NaiveDate) -> Option<String> {
    let lenses = &job.lenses;
    if lenses.design != Some(Design::Office) {
        return None;
    }
    let drop = lenses.power_drop_d.map(Dioptre::get);
    let age = job.wearer.age_on(on).map(f64::from);
    let (mut near_mm, mut far_mm) = (None::<f64>, lenses.far_mm.map(Millimetre::get));
    for eye in powered_eyes(job) {
        let ordered = lenses.powers.as_ref().and_then(|p| p.eye(eye).addition_d);
        let Some(addition) = ordered.or(job.prescription.eye(eye).addition_d) else {
            continue;
        };
        let amplitude = age.map_or(0.0, mean_amplitude_d);
        let range = office_range(addition.get(), drop.unwrap_or(0.0), amplitude);
        if age.is_some() {
            near_mm = near_mm.into_iter().chain(range.near_mm).reduce(f64::max);
        }
        if drop.is_some() && lenses.far_mm.is_none() {
            far_mm = far_mm.into_iter().chain(range.far_mm).reduce(f64::min);
        }
    }
    let cm = |mm: f64| format!("{:.0}", mm / 10.0);
    match (near_mm, far_mm) {
        (Some(near), Some(far)) => Some(format!("from about {} to {} cm", cm(near), cm(far))),
        (Some(near), None) => Some(format!("from about {} cm", cm(near))),
        (None, Some(far)) => Some(format!("to about {} cm", cm(far))),
        (None, None) => None,
    }
}
