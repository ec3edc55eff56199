//! What a repair of a collected pair is held by: the values it sets on the face, and who did it.

use crate::job::fields::{at, repair_fields};
use crate::job::{Gate, Handover, Job, NameKept, Repair};
use crate::judge::gate::acceptance::Acceptance;
use crate::judge::gate::catalogue::by_id;
use crate::judge::gate::check::Found;
use crate::judge::gate::context::{Compared, Context, Surroundings};
use crate::judge::gate::finding::Finding;
use crate::judge::gate::id::CheckId;

/// The checks of the values that a repair sets.
const OF_VALUES: [CheckId; 3] = [CheckId::FitVertex, CheckId::FitHeight, CheckId::FitTilt];

/// Runs one check of the handover on a job.
fn run(
    id: CheckId,
    job: &Job,
    around: Surroundings<'_>,
    acceptances: &[Acceptance],
    list: &mut Vec<Finding>,
) {
    let Some(check) = by_id(id) else { return };
    let context = Context {
        job,
        around,
        acceptances,
        compared: &Compared::default(),
    };
    let thresholds = &around.practice.thresholds;
    let mut found = Found::at(Gate::Collected, check, thresholds, list);
    (check.run)(&context, &mut found);
}

/// Whether a restricted pair may be repaired only because somebody else is named as the supervisor.
fn rests_on_supervisor(
    repaired: &Job,
    around: Surroundings<'_>,
    acceptances: &[Acceptance],
) -> bool {
    let handover = &repaired.handover;
    if handover.supervised_by.is_none() || handover.supervised_by == handover.given_by {
        return false;
    }
    let mut alone = repaired.clone();
    alone.handover.supervised_by = None;
    let mut without = Vec::new();
    run(
        CheckId::RestrictedHandover,
        &alone,
        around,
        acceptances,
        &mut without,
    );
    !without.is_empty()
}

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
    repaired.names.clear();
    let mut list = Vec::new();
    for id in OF_VALUES.into_iter().chain([CheckId::RestrictedHandover]) {
        run(id, &repaired, around, acceptances, &mut list);
    }
    if let (true, Some(by)) = (
        around.sign_in && rests_on_supervisor(&repaired, around, acceptances),
        &repair.by,
    ) {
        // Whoever supervises is signed in, or did not sign: nobody else's word counts for it.
        let typed = NameKept {
            typed_by: Some(by.clone()),
            ..NameKept::default()
        };
        let path = at!(handover.supervised_by).full_path();
        repaired.names.insert(path, typed);
        run(CheckId::Unsigned, &repaired, around, acceptances, &mut list);
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
