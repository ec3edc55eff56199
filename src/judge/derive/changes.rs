//! What has changed between the previous prescription and this one.

use crate::trade::tolerance::DUST;
use chrono::NaiveDate;
use serde::Serialize;

use crate::job::{EyePrescription, Job};
use crate::judge::derive::powers::powered_eyes;
use crate::practice::{Threshold, Thresholds};
use crate::trade::eye::Eye;
use crate::trade::units::{Dioptre, PrismDioptre};

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

/// Prism of a pair, prism dioptres, exact to the thousandth: what right and left lens do together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub(crate) struct PairPrism {
    /// Right and left base in added.
    base_in_delta: PrismDioptre,
    /// Base up of the right lens, that of the left subtracted.
    base_up_delta: PrismDioptre,
}

impl PairPrism {
    fn of(right: &EyePrescription, left: &EyePrescription) -> Self {
        let thousandths = |p: Option<PrismDioptre>| p.map_or(0, PrismDioptre::thousandths);
        Self {
            base_in_delta: PrismDioptre::from_thousandths(
                thousandths(right.base_in_delta) + thousandths(left.base_in_delta),
            ),
            base_up_delta: PrismDioptre::from_thousandths(
                thousandths(right.base_up_delta) - thousandths(left.base_up_delta),
            ),
        }
    }

    /// Returns it in words: `2.00 base out and 1.50 base up right`.
    pub(crate) fn says(self) -> String {
        let one = |prism: PrismDioptre, plus: &str, minus: &str| {
            let size = prism.get();
            let base = if size < 0.0 { minus } else { plus };
            (size != 0.0).then(|| format!("{:.2} {base}", size.abs()))
        };
        let both = [
            one(self.base_in_delta, "base in", "base out"),
            one(self.base_up_delta, "base up right", "base down right"),
        ];
        let said: Vec<String> = both.into_iter().flatten().collect();
        if said.is_empty() {
            "none".to_owned()
        } else {
            said.join(" and ")
        }
    }
}

/// How the prism of the pair differs from that of the previous one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct PrismChange {
    /// As prescribed.
    pub now: PairPrism,
    /// In the previous pair; none where none is recorded.
    pub before: PairPrism,
    /// Whether any prism is recorded of the previous pair.
    pub is_recorded_before: bool,
}

/// Returns the prism of the pair against the previous one where it has changed by as much as the
/// practice's thresholds say; `None` where no power of the previous pair is recorded.
pub(crate) fn changed_prism(job: &Job, thresholds: &Thresholds) -> Option<PrismChange> {
    let now = &job.prescription;
    let previous = now.previous.as_ref()?;
    let eyes = [&previous.right, &previous.left];
    if eyes.iter().all(|eye| eye.rx().is_none()) {
        return None;
    }
    let change = PrismChange {
        now: PairPrism::of(&now.right, &now.left),
        before: PairPrism::of(&previous.right, &previous.left),
        is_recorded_before: (eyes.iter())
            .any(|eye| eye.base_in_delta.is_some() || eye.base_up_delta.is_some()),
    };
    let apart = |a: PrismDioptre, b: PrismDioptre| (a.get() - b.get()).abs() + DUST;
    let vertical = apart(change.now.base_up_delta, change.before.base_up_delta);
    let horizontal = apart(change.now.base_in_delta, change.before.base_in_delta);
    let has_changed = vertical >= thresholds.get(Threshold::RxChangePrismVertical)
        || horizontal >= thresholds.get(Threshold::RxChangePrismHorizontal);
    has_changed.then_some(change)
}

/// Whether the prescription has changed against the previous pair by as much as the practice's
/// thresholds say.
pub(crate) fn prescription_has_changed(
    job: &Job,
    thresholds: &Thresholds,
    today: NaiveDate,
) -> bool {
    !changed_eyes(job, thresholds, today).is_empty() || changed_prism(job, thresholds).is_some()
}
