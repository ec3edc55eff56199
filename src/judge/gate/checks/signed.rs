//! Checks of whose name was entered by whom.

use super::nothing_yet;
use crate::job::Gate;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{Acceptable, Check, Severity};

pub(crate) static UNSIGNED: Check = Check {
    id: CheckId::Unsigned,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: true,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "at every gate, while sign-in is on: a name that this gate's checks rest on was entered by somebody else and not confirmed",
    ways_out: &["its owner confirms it with the PIN", "enter who did it"],
    source: "records rule of the practice",
    run: nothing_yet,
};
