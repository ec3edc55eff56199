//! Whether a pair serves one eye only: what compares the eyes says nothing of such a pair.

use crate::job::Job;
use crate::trade::eye::Eye;

/// Whether the wearer has one useful eye, or one of the lenses is a balance lens.
pub(crate) fn has_one_useful_eye(job: &Job) -> bool {
    job.wearer.one_eyed == Some(true)
        || Eye::BOTH
            .iter()
            .any(|eye| job.prescription.eye(*eye).is_balance())
}
