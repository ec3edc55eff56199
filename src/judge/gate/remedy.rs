//! The way out of a finding about vertex distance, in numbers.

use serde_json::Value;

use super::id::CheckId;
use crate::job::Job;
use crate::judge::derive::powers::ordered_or_prescribed;
use crate::judge::gate::finding::{About, Finding};
use crate::judge::rules::remedy::{Remedy, of_job, remedy};
use crate::practice::Thresholds;
use crate::trade::eye::Eye;

/// Returns what can be done about a finding that is about the vertex distance; `None` for any other.
///
/// At the collection there is a pair of lenses already: what was ordered is right at the distance
/// that the finding names, and other powers mean another pair. Where the pair sits now at no distance
/// that one is worn at, nothing is offered but measuring again.
pub fn of_finding(job: &Job, finding: &Finding, thresholds: &Thresholds) -> Option<Remedy> {
    let eye = match finding.eye {
        About::Right => Eye::Right,
        About::Left => Eye::Left,
        About::Pair | About::Job => return None,
    };
    match finding.check {
        CheckId::BvdMismatch => of_job(job, eye, thresholds),
        CheckId::FitVertex => {
            let number = |key: &str| finding.values.get(key).and_then(Value::as_f64);
            let rx = ordered_or_prescribed(job, eye)?;
            let now = job.handover.eye(eye).vertex_mm;
            let now = now.filter(|mm| thresholds.is_worn_at(*mm))?.get();
            remedy(eye, rx, number("made_for_mm")?, now, now).ok()
        }
        _ => None,
    }
}
