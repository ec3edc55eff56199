//! To whom supply is for registered people only, where the practice works: children and the registered
//! sight impaired.

use chrono::NaiveDate;

use crate::job::Job;
use crate::practice::{Practice, Threshold, Way};
use crate::trade::tolerance::DUST;

/// Whether a wearer is under the restricted age on a day.
pub(crate) fn is_child(job: &Job, practice: &Practice, day: NaiveDate) -> bool {
    let age = job.wearer.age_on(day);
    let limit = practice.thresholds.get(Threshold::RestrictedAge);
    age.is_some_and(|age| f64::from(age) + DUST < limit)
}

/// Whether a pair is for one of the restricted groups on a day.
pub(crate) fn is_restricted(job: &Job, practice: &Practice, day: NaiveDate) -> bool {
    practice.allows(Way::RestrictedGroups)
        && (is_child(job, practice, day) || job.wearer.is_sight_impaired())
}
