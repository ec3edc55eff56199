//! Checks of the order itself.

use super::values;
use crate::job::fields::at;
use crate::job::{Frame, Gate, Job, Reason, Stage, Tint};
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
    same_powers
        && is_same_frame(&job.frame, &other.frame)
        && job.lenses.purpose == other.lenses.purpose
        && job.lenses.tint.as_ref().unwrap_or(&Tint::default())
            == other.lenses.tint.as_ref().unwrap_or(&Tint::default())
}

/// By name where both have one, else by the boxed measurements; in the same colour, where both have
/// one.
fn is_same_frame(a: &Frame, b: &Frame) -> bool {
    let plain = |text: &Option<String>| text.as_deref().map(|t| t.trim().to_lowercase());
    let same_colour = match (plain(&a.colour), plain(&b.colour)) {
        (Some(a), Some(b)) => a == b,
        _ => true,
    };
    let same_model = match (plain(&a.name), plain(&b.name)) {
        (Some(a), Some(b)) => a == b,
        _ => a.a_mm.is_some() && (a.a_mm, a.b_mm, a.dbl_mm) == (b.a_mm, b.b_mm, b.dbl_mm),
    };
    same_colour && same_model
}

/// Whether either job was begun from the other.
fn is_linked(a: &Job, b: &Job) -> bool {
    let follows = |a: &Job, b: &Job| a.linked_to.is_some() && a.linked_to == b.number;
    follows(a, b) || follows(b, a)
}

pub(crate) static ORDER_DUPLICATE: Check = Check {
    id: CheckId::OrderDuplicate,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the same wearer's same powers in the same frame, colour, purpose and tint were ordered within {duplicate-days:0} days, and the job is neither a second pair nor linked to that one",
    ways_out: &["confirm that a second pair is wanted"],
    source: PRACTICE,
    run: |c, found| {
        if c.job.reason == Some(Reason::SecondPair) {
            return;
        }
        let day = c.job.order.ordered_on.unwrap_or(c.around.today);
        let within = c.threshold(Threshold::DuplicateDays);
        for other in c.around.others {
            let Some(ordered_on) = other.order.ordered_on else {
                continue;
            };
            let is_sent = !matches!(other.stage(), Stage::Measured | Stage::Cancelled);
            let is_followed = super::remakes::is_followed(c, other) || is_linked(c.job, other);
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
    run: |c, found| {
        let job = c.job;
        let Some(due) = job.order.due_on else { return };
        let today = c.around.today;
        // A pair that has been ordered may well be late; an order begins with a day to come.
        let is_past = due < today && job.stage() == Stage::Measured;
        let promised = job.promised_on.filter(|day| due > *day);
        let appointed = job
            .collection_at
            .map(|at| at.0.date())
            .filter(|day| due > *day);
        let says = match (is_past, promised, appointed) {
            (true, _, _) => {
                format!("the pair is due on {due}, and today is {today}: choose a day to come")
            }
            (false, Some(day), _) => format!(
                "the pair is due on {due}, and promised for {day}: choose another day, or tell the wearer"
            ),
            (false, None, Some(day)) => format!(
                "the pair is due on {due}, and the wearer comes on {day}: choose another day, or tell the wearer"
            ),
            (false, None, None) => return,
        };
        found.add(
            About::Job,
            at!(order.due_on),
            says,
            values! {
                "due_on" => due, "promised_on" => job.promised_on,
                "collection_at" => job.collection_at, "is_past" => is_past,
            },
            None,
        );
    },
};
