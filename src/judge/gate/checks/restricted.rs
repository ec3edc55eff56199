//! Checks of who may measure and who may hand over, and of supply to the restricted groups.

use crate::job::fields::at;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::trade::tolerance::DUST;
use chrono::NaiveDate;

use super::values;
use crate::job::Gate;
use crate::judge::gate::{About, Acceptable, Check, Context, Found, Severity};
use crate::practice::Threshold;

/// The law on supply to the restricted groups.
pub(super) const LAW: &str = "Opticians Act 1989 s27 (UK), as the College of Optometrists puts it";

/// Whether the wearer is under the restricted age on a day.
pub(crate) fn is_restricted_child(c: &Context<'_>, day: NaiveDate) -> bool {
    c.job
        .wearer
        .age_on(day)
        .is_some_and(|age| f64::from(age) + DUST < c.threshold(Threshold::RestrictedAge))
}

fn served_by(c: &Context<'_>, name: Option<&String>) -> bool {
    name.is_some_and(|n| c.around.staff.may_serve_restricted(n))
}

fn who(name: Option<&String>) -> String {
    name.map_or_else(
        || "nobody named".to_owned(),
        |n| format!("{n}, who is neither registered nor a trainee under a registered supervisor"),
    )
}

fn limit() -> String {
    "registered, or a trainee with a registered supervisor".to_owned()
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
        None => format!("nobody is named who {did}: enter a name of the staff list"),
        Some(n) => format!("{n}, who {did}, is not on the staff list"),
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
    holds_when: "the wearer is under {restricted-age:0} and whoever measured is neither registered nor a trainee with a registered supervisor",
    ways_out: &["a registered person takes over and measures"],
    source: LAW,
    run: |c, found| {
        let by = c.job.fitting.taken_by.as_ref();
        if is_restricted_child(c, c.around.today) && !served_by(c, by) {
            found.add(
                About::Job,
                at!(fitting.taken_by),
                format!(
                    "the wearer is under {:.0} and was measured by {}",
                    c.threshold(Threshold::RestrictedAge),
                    who(by)
                ),
                values! {"born" => c.job.wearer.born, "taken_by" => by},
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
    holds_when: "the wearer is registered sight impaired and whoever measured is neither registered nor a trainee with a registered supervisor",
    ways_out: &["a registered person takes over and measures"],
    source: LAW,
    run: |c, found| {
        let by = c.job.fitting.taken_by.as_ref();
        if c.job.wearer.is_sight_impaired() && !served_by(c, by) {
            found.add(
                About::Job,
                at!(fitting.taken_by),
                format!(
                    "the wearer is registered sight impaired and was measured by {}",
                    who(by)
                ),
                values! {"sight_impaired" => c.job.wearer.sight_impaired, "taken_by" => by},
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
    holds_when: "the wearer is under {restricted-age:0} on the day or registered sight impaired, and the pair is given by neither a registered person nor a supervised trainee",
    ways_out: &["a registered person hands it over"],
    source: LAW,
    run: |c, found| {
        let h = &c.job.handover;
        let by = h.given_by.as_ref();
        let child = is_restricted_child(c, h.given_on.unwrap_or(c.around.today));
        if (child || c.job.wearer.is_sight_impaired()) && !served_by(c, by) {
            found.add(
                About::Job,
                at!(handover.given_by),
                format!(
                    "supply to this wearer is restricted and the pair is given by {}",
                    who(by)
                ),
                values! {
                    "born" => c.job.wearer.born, "sight_impaired" => c.job.wearer.sight_impaired,
                    "given_by" => by, "given_on" => h.given_on,
                },
                Some(limit()),
            );
        }
    },
};
