//! Checks of who may measure and who may hand over, and of supply to the restricted groups.

use crate::job::fields::{FieldRef, at};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use chrono::NaiveDate;

use super::values;
use crate::job::Gate;
use crate::judge::gate::{About, Acceptable, Check, Context, Found, Severity, Values};
use crate::judge::rules::restricted_wearer::is_child;
use crate::practice::{Threshold, Way};

/// The law on supply to the restricted groups.
pub(super) const LAW: &str = "Opticians Act 1989 s27 (UK), as the College of Optometrists puts it";

/// Whether the wearer is under the restricted age on a day.
pub(crate) fn is_restricted_child(c: &Context<'_>, day: NaiveDate) -> bool {
    is_child(c.job, c.around.practice, day)
}

/// Whether supply to some groups is for registered people only, where the practice works.
pub(super) fn restricts(c: &Context<'_>) -> bool {
    c.around.practice.allows(Way::RestrictedGroups)
}

/// Whether somebody may serve a restricted wearer: registered, a trainee of somebody registered, or
/// under the eyes of somebody registered who is named.
fn is_served(c: &Context<'_>, by: Option<&String>, supervisor: Option<&String>) -> bool {
    by.is_some_and(|name| c.around.may_serve_restricted(name))
        || supervisor.is_some_and(|name| c.around.is_registrant(name))
}

/// Who did the work, and why that is not enough.
fn who(by: Option<&String>, supervisor: Option<&String>) -> String {
    let by = by.map_or_else(
        || "nobody who is named".to_owned(),
        |name| format!("{name}, who is not registered"),
    );
    match supervisor {
        Some(name) => format!("{by}; {name}, named as supervisor, is not registered either"),
        None => format!("{by}, and nobody registered is named as supervisor"),
    }
}

fn limit() -> String {
    "registered, or supervised by somebody registered".to_owned()
}

/// Adds who supervised to the values of a finding, where it is recorded.
fn and_supervisor(mut values: Values, supervisor: Option<&String>) -> Values {
    if supervisor.is_some() {
        values.append(&mut values! {"supervised_by" => supervisor});
    }
    values
}

/// The entry that is still open: who measured, or of somebody who may not alone, who supervised.
fn measurer_or_supervisor(by: Option<&String>) -> FieldRef {
    if by.is_some() {
        at!(fitting.supervised_by)
    } else {
        at!(fitting.taken_by)
    }
}

pub(crate) static MEASURED_BY: Check = Check {
    id: CheckId::MeasuredBy,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "whoever measured is missing or not on the staff list",
    ways_out: &["name who measured"],
    source: "records rule of the practice",
    run: |c, found| {
        by_staff(
            c,
            found,
            at!(fitting.taken_by).full(),
            "measured",
            c.job.fitting.taken_by.as_ref(),
        );
    },
};

pub(crate) static HANDOVER_BY: Check = Check {
    id: CheckId::HandoverBy,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "whoever handed over is missing or not on the staff list",
    ways_out: &["name who handed it over"],
    source: "records rule of the practice",
    run: |c, found| {
        by_staff(
            c,
            found,
            at!(handover.given_by).full(),
            "handed the pair over",
            c.job.handover.given_by.as_ref(),
        );
    },
};

fn by_staff(c: &Context<'_>, found: &mut Found<'_>, field: &str, did: &str, name: Option<&String>) {
    if name.is_some_and(|n| c.around.staff.find(n).is_some()) {
        return;
    }
    let says = match name {
        None => format!("nobody is named who {did}. Choose a name from the staff list."),
        Some(n) => format!("{n}, who {did}, is not on the staff list. Choose a name from it."),
    };
    found.add(About::Job, field, says, values! {"by" => name}, None);
}

pub(crate) static RESTRICTED_UNDER_16: Check = Check {
    id: CheckId::RestrictedUnder16,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the wearer is under {restricted-age:0} and whoever measured is neither registered nor supervised by somebody registered who is named",
    ways_out: &[
        "a registered person takes over and measures",
        "a registered person supervises on the premises and is named",
    ],
    source: LAW,
    run: |c, found| {
        let by = c.job.fitting.taken_by.as_ref();
        let supervisor = c.job.fitting.supervised_by.as_ref();
        let child = is_restricted_child(c, c.around.today);
        if restricts(c) && child && !is_served(c, by, supervisor) {
            let values = values! {"born" => c.job.wearer.born, "taken_by" => by};
            found.add(
                About::Job,
                measurer_or_supervisor(by),
                format!(
                    "the wearer is under {:.0} and was measured by {}. Measure under somebody registered, or name who supervised.",
                    c.threshold(Threshold::RestrictedAge),
                    who(by, supervisor)
                ),
                and_supervisor(values, supervisor),
                Some(limit()),
            );
        }
    },
};

pub(crate) static RESTRICTED_SIGHT_IMPAIRED: Check = Check {
    id: CheckId::RestrictedSightImpaired,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the wearer is registered sight impaired and whoever measured is neither registered nor supervised by somebody registered who is named",
    ways_out: &[
        "a registered person takes over and measures",
        "a registered person supervises on the premises and is named",
    ],
    source: LAW,
    run: |c, found| {
        let by = c.job.fitting.taken_by.as_ref();
        let supervisor = c.job.fitting.supervised_by.as_ref();
        let impaired = c.job.wearer.is_sight_impaired();
        if restricts(c) && impaired && !is_served(c, by, supervisor) {
            let values =
                values! {"sight_impaired" => c.job.wearer.sight_impaired, "taken_by" => by};
            found.add(
                About::Job,
                measurer_or_supervisor(by),
                format!(
                    "the wearer is registered sight impaired and was measured by {}. Measure under somebody registered, or name who supervised.",
                    who(by, supervisor)
                ),
                and_supervisor(values, supervisor),
                Some(limit()),
            );
        }
    },
};

pub(crate) static RESTRICTED_HANDOVER: Check = Check {
    id: CheckId::RestrictedHandover,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the wearer is under {restricted-age:0} on the day, registered sight impaired or not asked about it, and the pair is given by somebody neither registered nor supervised by somebody registered who is named; or it is for one of the first two and is not handed over in person",
    ways_out: &[
        "a registered person hands it over",
        "a registered person supervises on the premises and is named",
        "hand it over in person",
        "ask about sight registration",
    ],
    source: LAW,
    run: |c, found| {
        let h = &c.job.handover;
        let child = is_restricted_child(c, h.given_on.unwrap_or(c.around.today));
        let impaired = c.job.wearer.is_sight_impaired();
        let unasked = c.job.wearer.sight_impaired.is_none();
        if !restricts(c) || !(child || impaired || unasked) {
            return;
        }
        let wearer = if child {
            let age = c.threshold(Threshold::RestrictedAge);
            format!("the wearer is under {age:.0}")
        } else if impaired {
            "the wearer is registered sight impaired".to_owned()
        } else {
            "it is not recorded whether the wearer is registered sight impaired".to_owned()
        };
        let (by, supervisor) = (h.given_by.as_ref(), h.supervised_by.as_ref());
        let values = and_supervisor(
            values! {
                "born" => c.job.wearer.born, "sight_impaired" => c.job.wearer.sight_impaired,
                "given_by" => by, "given_on" => h.given_on,
            },
            supervisor,
        );
        if !is_served(c, by, supervisor) {
            // The entry that is still open: who gave the pair, what to ask, who supervised.
            let entry = match by {
                None => at!(handover.given_by),
                Some(_) if unasked && !child => at!(wearer.sight_impaired),
                Some(_) => at!(handover.supervised_by),
            };
            let first = if child || impaired {
                "Somebody registered hands it over or supervises and is named."
            } else {
                "Ask the wearer."
            };
            found.add(
                About::Job,
                entry,
                format!(
                    "{wearer}, and the pair is given by {}. {first}",
                    who(by, supervisor)
                ),
                values.clone(),
                Some(limit()),
            );
        }
        if let Some(method) = h
            .method
            .filter(|m| (child || impaired) && !m.is_in_person())
        {
            let mut values = values;
            values.append(&mut values! {"method" => method});
            found.add(
                About::Job,
                at!(handover.method),
                format!("{wearer}, and the pair is {method}. Hand it over in person."),
                values,
                Some(limit()),
            );
        }
    },
};
