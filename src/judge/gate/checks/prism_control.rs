//! Checks of prism control (slab-off) as it was made.

use super::values;
use crate::job::Gate;
use crate::job::fields::at;
use crate::judge::derive::segments::prism_control;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::{Seen, Work};
use crate::judge::gate::{About, Acceptable, Check, Context, Found, PRACTICE, Severity};
use crate::practice::Threshold;
use crate::trade::eye::{Eye, PerEye};
use crate::trade::tolerance::DUST;
use crate::trade::units::PrismDioptre;

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
    run: |c, found| {
        let Some(ordered) = prism_control(c.job) else {
            add_half_ordered(c, found);
            return;
        };
        let (eye, amount) = (ordered.eye, ordered.amount_delta);
        let read = c.job.readings.prism_control_delta.as_ref();
        let read = PerEye::from_fn(|eye| {
            let delta = match eye {
                Eye::Right => read?.right,
                Eye::Left => read?.left,
            };
            delta.map(PrismDioptre::get)
        });
        let limit = c.threshold(Threshold::PrismControlMade);
        let is_made = |delta: &f64| delta.abs() > limit + DUST;
        let other = read.get(eye.other()).filter(is_made);
        let says = match (read.get(eye), other) {
            (made, Some(other)) if !made.is_some_and(|made| is_made(&made)) => format!(
                "prism control of {amount:.2} was ordered on the {eye} lens and is on the {} lens: {other:.2}",
                eye.other()
            ),
            (None, _) => {
                format!(
                    "prism control of {amount:.2} was ordered on the {eye} lens and has not been read"
                )
            }
            (Some(_), Some(other)) => format!(
                "prism control was ordered on the {eye} lens alone, and the {} lens has {other:.2} too",
                eye.other()
            ),
            (Some(made), None) if (made - amount).abs() > limit + DUST => format!(
                "prism control of the {eye} lens was ordered {amount:.2} and read {made:.2}: out by {:.2} prism dioptres",
                (made - amount).abs()
            ),
            _ => return,
        };
        found.add(
            About::from(eye),
            match eye {
                Eye::Right => at!(readings.prism_control_delta.right),
                Eye::Left => at!(readings.prism_control_delta.left),
            },
            says,
            values! {"ordered_delta" => amount, "right_delta" => read.right, "left_delta" => read.left},
            Some(format!("{limit:.2} prism dioptres")),
        );
    },
};

/// Adds that prism control was ordered without its lens or without its amount, so that nothing can
/// be compared.
fn add_half_ordered(c: &Context<'_>, found: &mut Found<'_>) {
    let Some(control) = &c.job.lenses.prism_control else {
        return;
    };
    let amount = control.amount_delta.filter(|a| a.get() > 0.0);
    let (field, lacks) = match (control.eye, amount) {
        (None, Some(_)) => (at!(lenses.prism_control.eye), "its lens"),
        (Some(_), None) if control.amount_delta.is_none() => {
            (at!(lenses.prism_control.amount_delta), "its amount")
        }
        _ => return,
    };
    found.add(
        About::Pair,
        field,
        format!("prism control was ordered without {lacks}, and cannot be compared"),
        values! {"eye" => control.eye, "amount_delta" => control.amount_delta},
        None,
    );
}
