//! Checks of prism control (slab-off) as it was made.

use super::nothing_yet;
use crate::job::Gate;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::{Seen, Work};
use crate::judge::gate::{Acceptable, Check, PRACTICE, Severity};

pub(crate) static PRISM_CONTROL_MADE: Check = Check {
    id: CheckId::PrismControlMade,
    about: Work::Laboratory(Seen::Compared),
    gate: Gate::Verified,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "prism control was ordered, and it has not been read, is on the other lens, or differs from what was ordered by more than {prism-control-made:2} prism dioptres",
    ways_out: &["read across the line again", "send back"],
    source: PRACTICE,
    run: nothing_yet,
};
