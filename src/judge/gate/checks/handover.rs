//! Checks of the handover: identity, acuity, comfort, advice.

use super::restricted::is_restricted_child;
use super::values;
use crate::job::fields::at;
use crate::job::{Advice, Design, Gate, Purpose};
use crate::judge::derive::changes::prescription_has_changed;
use crate::judge::derive::powers::strength_d;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Context, PRACTICE, Severity};
use crate::practice::Threshold;
use crate::trade::eye::Eye;
use crate::trade::tolerance::DUST;

pub(crate) static IDENTITY_UNCHECKED: Check = Check {
    id: CheckId::IdentityUnchecked,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the wearer's identity has not been checked",
    ways_out: &["check two details"],
    source: PRACTICE,
    run: |c, found| {
        if c.job.handover.identity_checked != Some(true) {
            found.add(
                About::Job,
                at!(handover.identity_checked),
                "check two details of the wearer before the pair is handed over",
                values! {"identity_checked" => c.job.handover.identity_checked},
                None,
            );
        }
    },
};

/// Whether the wearer's previous pair had a design that `is` says yes to.
fn previous_design(c: &Context<'_>, is: impl Fn(Design) -> bool) -> bool {
    c.job
        .prescription
        .previous
        .as_ref()
        .and_then(|p| p.design.as_deref())
        .and_then(Design::from_word)
        .is_some_and(is)
}

fn has_prism(c: &Context<'_>) -> bool {
    Eye::BOTH.iter().any(|eye| {
        let e = c.job.prescription.eye(*eye);
        [e.base_in_delta, e.base_up_delta]
            .into_iter()
            .flatten()
            .any(|d| d.thousandths() != 0)
    })
}

pub(crate) static ACUITY_MISSING: Check = Check {
    id: CheckId::AcuityMissing,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "no acuity was taken where strength is {strong-pair:2} D or more, or for prism, a child or a first progressive",
    ways_out: &["take it"],
    source: "College of Optometrists guidance A321, acuity where apt",
    run: |c, found| {
        let h = &c.job.handover;
        let taken = |t: Option<&String>| t.is_some_and(|t| !t.trim().is_empty());
        let near_pair = c.job.lenses.is_near_single_vision();
        if taken(h.distance_acuity.as_ref()) || (near_pair && taken(h.near_acuity.as_ref())) {
            return;
        }
        let strength = strength_d(c.job);
        let first_progressive = c.job.lenses.design == Some(Design::Progressive)
            && !previous_design(c, |d| d == Design::Progressive);
        let why: Vec<&str> = [
            (
                "a strong pair",
                strength + DUST >= c.threshold(Threshold::Strong),
            ),
            ("prism", has_prism(c)),
            (
                "a child",
                is_restricted_child(c, h.given_on.unwrap_or(c.around.today)),
            ),
            ("a first progressive", first_progressive),
        ]
        .into_iter()
        .filter(|(_, needed)| *needed)
        .map(|(name, _)| name)
        .collect();
        if !why.is_empty() {
            found.add(
                About::Job,
                at!(handover.distance_acuity),
                format!("no acuity taken with the finished pair ({})", why.join(", ")),
                values! {"distance_acuity" => h.distance_acuity, "near_acuity" => h.near_acuity, "because" => why},
                None,
            );
        }
    },
};

pub(crate) static NOT_COMFORTABLE: Check = Check {
    id: CheckId::NotComfortable,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the wearer is not comfortable",
    ways_out: &["adjust", "give a date to come back"],
    source: PRACTICE,
    run: |c, found| {
        if c.job.handover.comfortable == Some(false) {
            found.add(
                About::Job,
                at!(handover.comfortable),
                "the wearer is not comfortable in the pair",
                values! {"comfortable" => false},
                None,
            );
        }
    },
};

/// Returns the topics of advice that this pair needs.
fn needed_advice(c: &Context<'_>) -> Vec<Advice> {
    let l = &c.job.lenses;
    let multifocal = l.design.is_some_and(Design::needs_addition);
    let first_multifocal = multifocal && !previous_design(c, Design::needs_addition);
    let has_changed =
        prescription_has_changed(c.job, &c.around.practice.thresholds, c.around.today);
    let tinted_or_desk = l.tint.is_some() || l.design == Some(Design::Office);
    [
        (Advice::Adaptation, first_multifocal || has_changed),
        (
            Advice::Driving,
            c.job.wearer.drives == Some(true) && tinted_or_desk,
        ),
        (Advice::SafetyLimits, l.purpose == Some(Purpose::Safety)),
        (Advice::Care, true),
        (Advice::Aftercare, true),
    ]
    .into_iter()
    .filter(|(_, needed)| *needed)
    .map(|(topic, _)| topic)
    .collect()
}

pub(crate) static ADVICE_MISSING: Check = Check {
    id: CheckId::AdviceMissing,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "a topic is absent: adaptation (first multifocal or a changed prescription), driving (drives, and tint or office), safety limits (safety pair), care, aftercare",
    ways_out: &["give the advice and record it"],
    source: "College of Optometrists guidance on supply; Opticians Act 1989 s27(3B), aftercare (UK)",
    run: |c, found| {
        let given = c.job.handover.advice.clone().unwrap_or_default();
        let missing: Vec<&str> = needed_advice(c)
            .into_iter()
            .filter(|topic| !given.contains(topic))
            .map(Advice::word)
            .collect();
        if !missing.is_empty() {
            found.add(
                About::Job,
                at!(handover.advice),
                format!("advice not recorded: {}", missing.join(", ")),
                values! {"missing" => missing, "given" => given},
                None,
            );
        }
    },
};
