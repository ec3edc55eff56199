//! What has changed between the previous prescription and this one.

use crate::trade::tolerance::DUST;
use chrono::NaiveDate;

use crate::job::{EyePrescription, Job};
use crate::judge::derive::powers::powered_eyes;
use crate::practice::{Threshold, Thresholds};
use crate::trade::eye::Eye;
use crate::trade::units::Dioptre;

/// How an eye's prescription differs from the previous one, each in dioptres.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(clippy::struct_field_names, reason = "the unit is part of every name")]
pub(crate) struct RxChange {
    /// Mean sphere, this one less the previous one.
    pub mean_d: f64,
    /// Cylinder of the difference matrix, not below zero.
    pub cylinder_d: f64,
    /// Addition, this one less the previous one; 0 where either has none.
    pub addition_d: f64,
    /// The change of mean sphere from which on it counts, by the wearer's age.
    pub mean_limit_d: f64,
}

fn change_of(
    now: &EyePrescription,
    before: &EyePrescription,
    mean_limit_d: f64,
) -> Option<RxChange> {
    let (new, old) = (now.rx()?, before.rx()?);
    let addition_d = match (now.addition_d, before.addition_d) {
        (Some(n), Some(o)) if o != Dioptre::ZERO => n.get() - o.get(),
        _ => 0.0,
    };
    Some(RxChange {
        mean_d: new.mean_d() - old.mean_d(),
        cylinder_d: (new.matrix() - old.matrix()).cylinder_size_d(),
        addition_d,
        mean_limit_d,
    })
}

/// Returns the eyes whose prescription has changed by as much as the practice's thresholds say.
pub(crate) fn changed_eyes(
    job: &Job,
    thresholds: &Thresholds,
    today: NaiveDate,
) -> Vec<(Eye, RxChange)> {
    let now = &job.prescription;
    let Some(previous) = &now.previous else {
        return Vec::new();
    };
    let is_older = job
        .wearer
        .age_on(today)
        .is_some_and(|age| f64::from(age) >= thresholds.get(Threshold::OlderAge));
    let mean_limit_d = thresholds.get(if is_older {
        Threshold::RxChangeSphereOlder
    } else {
        Threshold::RxChangeSphere
    });
    powered_eyes(job)
        .filter_map(|eye| {
            let change = change_of(now.eye(eye), previous.eye(eye), mean_limit_d)?;
            Some((eye, change))
        })
        .filter(|(_, change)| {
            change.mean_d.abs() + DUST >= mean_limit_d
                || change.cylinder_d + DUST >= thresholds.get(Threshold::RxChangeCylinder)
                || change.addition_d.abs() + DUST >= thresholds.get(Threshold::RxChangeAddition)
        })
        .collect()
}

/// Whether the prescription has changed against the previous pair by as much as the practice's
/// thresholds say.
pub(crate) fn prescription_has_changed(
    job: &Job,
    thresholds: &Thresholds,
    today: NaiveDate,
) -> bool {
    !changed_eyes(job, thresholds, today).is_empty()
}
