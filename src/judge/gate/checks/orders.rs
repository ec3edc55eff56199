//! Checks of the order itself.

use super::{nothing_yet, values};
use crate::job::fields::at;
use crate::job::{Frame, Gate, Job, Stage};
use crate::judge::derive::powers::powered_eyes;
use crate::judge::derive::powers::{addition_and_prism, ordered};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Context, PRACTICE, Severity};
use crate::practice::Threshold;

pub(crate) static ORDER_INCOMPLETE: Check = Check {
    id: CheckId::OrderIncomplete,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "no laboratory or no due date",
    ways_out: &["fill it in"],
    source: PRACTICE,
    run: |c, found| {
        let o = &c.job.order;
        let laboratory = o
            .laboratory
            .as_deref()
            .is_some_and(|l| !l.trim().is_empty());
        let missing: Vec<&str> = [("laboratory", laboratory), ("due date", o.due_on.is_some())]
            .into_iter()
            .filter(|(_, there)| !there)
            .map(|(name, _)| name)
            .collect();
        if !missing.is_empty() {
            let field = if laboratory {
                at!(order.due_on)
            } else {
                at!(order.laboratory)
            };
            found.add(
                About::Job,
                field,
                format!("the order has no {}", missing.join(" and no ")),
                values! {"laboratory" => o.laboratory, "due_on" => o.due_on},
                None,
            );
        }
    },
};

fn is_same_order(c: &Context<'_>, other: &Job) -> bool {
    let job = c.job;
    let mut eyes = powered_eyes(job).peekable();
    let same_powers = eyes.peek().is_some()
        && eyes.all(|eye| match (ordered(job, eye), ordered(other, eye)) {
            (Some(a), Some(b)) => {
                (a.matrix() - b.matrix()).largest_d() < 1e-6
                    && addition_and_prism(job, eye) == addition_and_prism(other, eye)
            }
            _ => false,
        });
    same_powers && is_same_frame(&job.frame, &other.frame)
}

/// By name where both have one, else by the boxed measurements.
fn is_same_frame(a: &Frame, b: &Frame) -> bool {
    let name = |f: &Frame| f.name.as_deref().map(|n| n.trim().to_lowercase());
    match (name(a), name(b)) {
        (Some(a), Some(b)) => a == b,
        _ => a.a_mm.is_some() && (a.a_mm, a.b_mm, a.dbl_mm) == (b.a_mm, b.b_mm, b.dbl_mm),
    }
}

pub(crate) static ORDER_DUPLICATE: Check = Check {
    id: CheckId::OrderDuplicate,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the same wearer's same powers in the same frame were ordered within {duplicate-days:0} days",
    ways_out: &["confirm that a second pair is wanted"],
    source: PRACTICE,
    run: |c, found| {
        let day = c.job.order.ordered_on.unwrap_or(c.around.today);
        let within = c.threshold(Threshold::DuplicateDays);
        for other in c.around.others {
            let Some(ordered_on) = other.order.ordered_on else {
                continue;
            };
            let is_sent = !matches!(other.stage(), Stage::Measured | Stage::Cancelled);
            let is_followed = super::remakes::is_followed(c, other);
            #[allow(
                clippy::cast_precision_loss,
                reason = "a count of days, far inside the exact whole numbers"
            )]
            let days = (day - ordered_on).num_days().abs() as f64;
            if is_sent && !is_followed && days <= within && is_same_order(c, other) {
                found.add(
                    About::Job,
                    at!(order.ordered_on),
                    format!(
                        "job {} of the same wearer orders the same powers in the same frame on {ordered_on}",
                        other.number.as_deref().unwrap_or("-")
                    ),
                    values! {"other" => other.number, "ordered_on" => ordered_on},
                    Some(format!("{within:.0} days")),
                );
            }
        }
    },
};

pub(crate) static DUE_LATE: Check = Check {
    id: CheckId::DueLate,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "due on a day that has passed, or after the day promised or the appointment",
    ways_out: &["another day", "tell the wearer"],
    source: PRACTICE,
    run: nothing_yet,
};
