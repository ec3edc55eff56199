//! What one key does about a finding: the remedies that are recorded values, the first one first.

use serde_json::Value;

use super::id::CheckId;
use crate::job::{Job, PowersAs, Stage};
use crate::judge::derive::compensation::worn;
use crate::judge::derive::lowering::WornChange;
use crate::judge::derive::powers::{ordered_or_prescribed, powered_eyes};
use crate::judge::gate::finding::{About, Finding};
use crate::judge::rules::recorded_remedy::{
    RecordedRemedy, compensate, laboratory_for_angles, laboratory_for_vertex, larger_blank,
    lower_centres, near_cd_worked_out, not_by_laboratory_too, order_as_written, order_prescribed,
};
use crate::judge::rules::remedy::is_worn_there;
use crate::practice::{Threshold, Thresholds};
use crate::trade::eye::Eye;

/// Returns the remedies of a finding that can be recorded at once, the first one first; none where what is
/// to be done has to be measured, asked or chosen, and none once the lenses are ordered.
pub fn recorded_remedies(
    job: &Job,
    finding: &Finding,
    thresholds: &Thresholds,
) -> Vec<RecordedRemedy> {
    if job.stage() != Stage::Measured || finding.settled.is_some() {
        return Vec::new();
    }
    let eye = match finding.eye {
        About::Right => Some(Eye::Right),
        About::Left => Some(Eye::Left),
        About::Pair | About::Job => None,
    };
    let said = |key: &str| finding.values.get(key).and_then(Value::as_str);
    let agreement_d = thresholds.get(Threshold::PowerAgreement);
    let one = |remedy: Option<RecordedRemedy>| remedy.into_iter().collect();
    match finding.check {
        CheckId::AsWornError => one(lower_centres(job, |eye| {
            let rx = ordered_or_prescribed(job, eye)?;
            Some(WornChange::between(rx, worn(job, eye, rx)?.rx))
        })
        .or_else(|| laboratory_for_angles(job))),
        CheckId::BvdMismatch => {
            let eyes: Vec<Eye> = powered_eyes(job).collect();
            let is_prescribed = job.lenses.powers_as().is_some_and(PowersAs::is_as_written);
            let kind = PowersAs::VertexCompensated;
            let mut ways = if is_prescribed && is_worn_there(job, thresholds) {
                compensate(job, &eyes, kind, agreement_d)
            } else {
                Vec::new()
            };
            ways.extend(laboratory_for_vertex(job));
            ways
        }
        CheckId::PowersDiffer => match (eye, job.lenses.powers_as()) {
            (Some(eye), Some(kind)) if kind.is_as_written() => one(order_as_written(job, &[eye])),
            (Some(eye), Some(kind)) if kind != PowersAs::AdaptedToTheTask => {
                compensate(job, &[eye], kind, agreement_d)
            }
            _ => Vec::new(),
        },
        CheckId::PowersNeedRegistrant => one(order_prescribed(job)),
        CheckId::CompensatedTwice => one(said("what").and_then(not_by_laboratory_too)),
        CheckId::PdNear => {
            one(eye.and_then(|eye| near_cd_worked_out(job, eye, thresholds.get(Threshold::PdNear))))
        }
        CheckId::BlankSmall => one(larger_blank(job)),
        _ => Vec::new(),
    }
}
