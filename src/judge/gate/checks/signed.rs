//! Checks of whose name was entered by whom.

use super::values;
use crate::job::names::label_of_name;
use crate::job::{Gate, Section};
use crate::judge::gate::check::{Check, Found};
use crate::judge::gate::context::Context;
use crate::judge::gate::finding::{About, Acceptable, Severity};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;

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
    run: unsigned,
};

/// Whether the checks of a gate rest on the names of a section.
fn rests_on(gate: Gate, section: Section) -> bool {
    match section {
        Section::Readings => gate != Gate::Ordered,
        Section::Handover => gate == Gate::Collected,
        _ => true,
    }
}

fn unsigned(c: &Context<'_>, found: &mut Found<'_>) {
    if !c.around.sign_in {
        return;
    }
    for (name, typed_by) in c.job.unsigned_names() {
        if !rests_on(found.gate(), name.section) {
            continue;
        }
        let (label, owner) = (label_of_name(&name.path), name.name.trim());
        let message = match c.around.staff.find(owner) {
            Some(_) => format!(
                "{label} {owner}: entered or changed by {typed_by} and not confirmed by {owner}. {owner} confirms it with the PIN."
            ),
            None => format!(
                "{label} {owner}: entered by {typed_by}, and {owner} is not on the staff list. Enter who did it."
            ),
        };
        found.add(
            About::Job,
            name.path.clone(),
            message,
            values! {"field" => name.path, "name" => owner, "typed_by" => typed_by},
            None,
        );
    }
}
