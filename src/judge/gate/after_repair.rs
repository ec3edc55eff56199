//! What a repair of a collected pair is held by: the values it sets on the face, and who did it.

use crate::job::fields::repair_fields;
use crate::job::{Handover, Job, Repair};
use crate::judge::gate::acceptance::Acceptance;
use crate::judge::gate::catalogue::by_id;
use crate::judge::gate::check::Found;
use crate::judge::gate::context::{Compared, Context, Surroundings};
use crate::judge::gate::finding::Finding;
use crate::judge::gate::id::CheckId;

/// The checks of the values that a repair sets.
const OF_VALUES: [CheckId; 3] = [CheckId::FitVertex, CheckId::FitHeight, CheckId::FitTilt];

/// Returns what holds a repair, by the checks of the handover. A value that the repair does not set
/// is not judged, and a repair that sets none is held by nothing.
pub fn of_repair(
    job: &Job,
    repair: &Repair,
    around: Surroundings<'_>,
    acceptances: &[Acceptance],
) -> Vec<Finding> {
    if repair_fields().all(|field| field.read_repair(repair).is_none()) {
        return Vec::new();
    }
    let mut repaired = job.clone();
    // Only what the repair sets: it was done in person, and what it leaves alone is not its matter.
    repaired.handover = Handover {
        given_by: repair.by.clone(),
        given_on: repair.on,
        supervised_by: repair.supervised_by.clone(),
        right: repair.right.clone(),
        left: repair.left.clone(),
        pantoscopic_deg: repair.pantoscopic_deg,
        face_form_deg: repair.face_form_deg,
        ..Handover::default()
    };
    let context = Context {
        job: &repaired,
        around,
        acceptances,
        compared: &Compared::default(),
    };
    let mut list = Vec::new();
    for id in OF_VALUES.into_iter().chain([CheckId::RestrictedHandover]) {
        if let Some(check) = by_id(id) {
            let thresholds = &around.practice.thresholds;
            let mut found = Found::at(check.gate, check, thresholds, &mut list);
            (check.run)(&context, &mut found);
        }
    }
    for finding in &mut list {
        finding.settled = acceptances
            .iter()
            .rev()
            .find(|a| a.settles(finding))
            .cloned();
    }
    list
}
