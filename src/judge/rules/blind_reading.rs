//! Whoever reads a pair does not know what was ordered: the order stays hidden until the readings
//! decide.

use crate::job::Job;
use crate::practice::Practice;
use crate::trade::eye::Eye;

use super::repeats;

/// Returns the eyes whose lens has not been read; a balance lens need not be.
fn unread(job: &Job) -> impl Iterator<Item = Eye> + '_ {
    Eye::BOTH.into_iter().filter(|eye| {
        !job.prescription.eye(*eye).is_balance() && job.readings.eye(*eye).sphere_d.is_none()
    })
}

/// Whether both lenses are read, each at least once.
pub(crate) fn both_read(job: &Job) -> bool {
    unread(job).next().is_none()
        && Eye::BOTH
            .iter()
            .any(|eye| job.readings.eye(*eye).sphere_d.is_some())
}

/// Returns why the order is not shown yet: a lens was not read, or one that decides nothing was not
/// read as often as it takes. Whoever reads again is as blind as at the first reading.
pub(crate) fn hidden_because(job: &Job, practice: &Practice) -> Option<String> {
    let missing: Vec<&str> = unread(job).map(Eye::word).collect();
    if !missing.is_empty() || !both_read(job) {
        let which = match missing.as_slice() {
            [one] => format!("The {one} lens is not"),
            _ => "Neither lens is".to_owned(),
        };
        return Some(format!(
            "{which} read yet: the order stays hidden until both are."
        ));
    }
    let again: Vec<String> = Eye::BOTH
        .into_iter()
        .filter_map(|eye| match repeats::wanted(job, practice, eye) {
            0 => None,
            1 => Some(format!("the {eye} lens is to be read once more")),
            n => Some(format!("the {eye} lens is to be read {n} times more")),
        })
        .collect();
    (!again.is_empty()).then(|| format!("The order stays hidden: {}.", again.join(", and ")))
}

/// Whether nothing of the order is shown yet.
pub(crate) fn is_hidden(job: &Job, practice: &Practice) -> bool {
    hidden_because(job, practice).is_some()
}

/// Returns what is written in the place of the order of a pair that is being read, in a few words;
/// `None` once the readings decide.
pub(crate) fn written_instead(job: &Job, practice: &Practice) -> Option<&'static str> {
    if !is_hidden(job, practice) {
        return None;
    }
    Some(if both_read(job) {
        "hidden until the readings decide"
    } else {
        "hidden until both lenses are read"
    })
}
