//! Checks of the handover: identity, acuity, comfort, advice.

use super::fit::not_fitted;
use super::restricted::is_restricted_child;
use super::values;
use crate::job::fields::at;
use crate::job::{Advice, Design, Gate, Purpose};
use crate::judge::derive::changes::prescription_has_changed;
use crate::judge::derive::powers::has_prism;
use crate::judge::derive::powers::strength_d;
use crate::judge::derive::tint::{is_photochromic, is_tinted};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Context, PRACTICE, Severity};
use crate::judge::rules::advice::{is_first_multifocal, is_first_progressive};
use crate::practice::Threshold;
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
        if not_fitted(c).is_some() {
            return;
        }
        let h = &c.job.handover;
        let taken = |t: Option<&String>| t.is_some_and(|t| !t.trim().is_empty());
        let near_pair = c.job.lenses.is_near_single_vision();
        if taken(h.distance_acuity.as_ref()) || (near_pair && taken(h.near_acuity.as_ref())) {
            return;
        }
        let strength = strength_d(c.job);
        let why: Vec<&str> = [
            (
                "a strong pair",
                strength + DUST >= c.threshold(Threshold::Strong),
            ),
            ("prism", has_prism(c.job)),
            (
                "a child",
                is_restricted_child(c, h.given_on.unwrap_or(c.around.today)),
            ),
            ("a first progressive", is_first_progressive(c.job)),
        ]
        .into_iter()
        .filter(|(_, needed)| *needed)
        .map(|(name, _)| name)
        .collect();
        if !why.is_empty() {
            found.add(
                About::Job,
                at!(handover.distance_acuity),
                format!(
                    "no acuity taken with the finished pair ({}). Take it.",
                    why.join(", ")
                ),
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
    holds_when: "the wearer is not comfortable; a stop where nobody asked, or nobody asked whether a pair with prism is seen single",
    ways_out: &["ask the wearer", "adjust", "give a date to come back"],
    source: PRACTICE,
    run: |c, found| {
        if not_fitted(c).is_some() {
            return;
        }
        let h = &c.job.handover;
        let answer = match h.comfortable {
            Some(true) => None,
            Some(false) => Some((
                Severity::Warning,
                "the wearer is not comfortable in the pair. Adjust it, or give a date to come back.",
            )),
            None => Some((
                Severity::Stop,
                "it is not recorded whether the wearer is comfortable in the pair. Ask the wearer.",
            )),
        };
        if let Some((severity, says)) = answer {
            found.add_as(
                severity,
                About::Job,
                at!(handover.comfortable),
                says,
                values! {"comfortable" => h.comfortable},
                None,
            );
        }
        if has_prism(c.job) && h.sees_single.is_none() {
            found.add_as(
                Severity::Stop,
                About::Job,
                at!(handover.sees_single),
                "the pair has prism, and it is not recorded whether the wearer sees single. Ask the wearer.",
                values! {"sees_single" => h.sees_single},
                None,
            );
        }
    },
};

/// Returns the topics of advice that this pair needs.
fn needed_advice(c: &Context<'_>) -> Vec<Advice> {
    let l = &c.job.lenses;
    let has_changed =
        prescription_has_changed(c.job, &c.around.practice.thresholds, c.around.today);
    let not_for_driving =
        is_tinted(c.job) || is_photochromic(c.job) || l.design == Some(Design::Office);
    [
        (
            Advice::Adaptation,
            is_first_multifocal(c.job) || has_changed,
        ),
        (
            Advice::Driving,
            c.job.wearer.drives == Some(true) && not_for_driving,
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
    holds_when: "a topic is absent: adaptation (first multifocal or a changed prescription), driving (drives, and tinted, photochromic or office), safety limits (safety pair), care, aftercare",
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
                format!(
                    "advice not recorded: {}. Give it and record it.",
                    missing.join(", ")
                ),
                values! {"missing" => missing, "given" => given},
                None,
            );
        }
    },
};
