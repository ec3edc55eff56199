//! Checks of how a frame sits on a child.

use super::nothing_yet;
use crate::job::Gate;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{Acceptable, Check, PRACTICE, Severity};

pub(crate) static CHILD_FIT: Check = Check {
    id: CheckId::ChildFit,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Note,
    accept: Acceptable::Nobody,
    holds_when: "under {child-fit-age:0}: pantoscopic angle over {child-fit-tilt:0} degrees, or the pupil below the middle of the lens",
    ways_out: &["raise the front", "less tilt"],
    source: PRACTICE,
    run: nothing_yet,
};
