//! What the order says of lenses and frame beside their material and size: who makes them, how they
//! are supplied, and what an office lens is made to.

use super::content::Fact;
use super::value_text::{at, fact, known, only_known, wide};
use crate::job::fields::{FieldRef, at};
use crate::job::{Design, Job, PowersAs};
use crate::judge::derive::places::lowered_mm;
use crate::judge::derive::powers::{ordered, written};
use crate::judge::derive::verification::target;
use crate::trade::eye::Eye;

/// The fields that have a place of their own on the order of a job, or that the laboratory need not
/// know, so that its list of others leaves them out.
pub(super) fn placed(job: &Job) -> Vec<FieldRef> {
    let lenses = &job.lenses;
    let mut placed = vec![
        at!(frame.maker),
        at!(frame.supplier),
        at!(frame.impact_mark),
        at!(lenses.maker),
        at!(lenses.product),
        at!(lenses.variant),
        at!(lenses.form),
        at!(lenses.supply),
        at!(lenses.edge_finish),
        at!(lenses.powers.because),
        at!(fitting.supervised_by),
    ];
    if lenses.design == Some(Design::Office) {
        placed.extend([at!(lenses.far_mm), at!(lenses.power_drop_d)]);
    }
    if lowered_mm(job).abs() > 0.0 {
        placed.push(at!(lenses.lowered_mm));
    }
    if lenses.powers_as() == Some(PowersAs::AdaptedToTheTask) {
        placed.push(at!(lenses.powers.distance_mm));
    }
    if lenses.powers_as().is_some() && Eye::BOTH.iter().any(|eye| ordered(job, *eye).is_some()) {
        placed.extend([
            at!(lenses.compensates.vertex),
            at!(lenses.compensates.tilt),
            at!(lenses.compensates.face_form),
        ]);
    }
    placed
}

/// What the lenses are by name, before their facts.
pub(super) fn named_lenses(job: &Job) -> Vec<Fact> {
    only_known(vec![
        fact("maker", at(job, at!(lenses.maker))),
        fact("product", at(job, at!(lenses.product))),
        fact("variant", at(job, at!(lenses.variant))),
        fact("form", at(job, at!(lenses.form))),
    ])
}

/// How the lenses are supplied and what they are made to besides their powers, after their facts.
pub(super) fn made_to(job: &Job) -> Vec<Fact> {
    let mut facts = only_known(vec![
        fact("supplied", at(job, at!(lenses.supply))),
        fact("edge finish", at(job, at!(lenses.edge_finish))),
    ]);
    facts.extend(office(job).map(|text| wide("office lens", text)));
    facts
}

/// Who makes and who supplies the frame, and its impact mark.
pub(super) fn frame_source(job: &Job) -> Vec<Fact> {
    only_known(vec![
        fact("frame maker", at(job, at!(frame.maker))),
        fact("frame supplier", at(job, at!(frame.supplier))),
        fact("impact mark of the frame", at(job, at!(frame.impact_mark))),
    ])
}

/// The near power that an office lens is ordered from, and how far it is to reach.
fn office(job: &Job) -> Option<String> {
    let near = |eye: Eye| {
        let rx = target(job, eye)?.rx()?;
        Some(format!("{eye} {}", written(rx)))
    };
    let drop = known(job, at!(lenses.power_drop_d));
    let far = known(job, at!(lenses.far_mm));
    if job.lenses.design != Some(Design::Office) {
        return None;
    }
    let powers: Vec<String> = Eye::BOTH.into_iter().filter_map(near).collect();
    let parts: Vec<String> = [
        (!powers.is_empty()).then(|| format!("near power {}", powers.join(", "))),
        drop.map(|drop| format!("power drop {drop} from near to the top")),
        far.map(|far| format!("furthest distance to be clear {far}")),
    ]
    .into_iter()
    .flatten()
    .collect();
    (!parts.is_empty()).then(|| parts.join("; "))
}
