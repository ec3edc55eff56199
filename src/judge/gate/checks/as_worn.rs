//! What tilt and face form do to the powers of a pair that nobody compensates for them.

use super::{power_value, to_thousandth, values};
use crate::job::fields::at;
use crate::job::{Design, Gate, Purpose};
use crate::judge::derive::compensation::{Worn, worn};
use crate::judge::derive::lens::material;
use crate::judge::derive::lowering::{WornChange, helps};
use crate::judge::derive::places::lowered_mm;
use crate::judge::derive::powers::{ordered_or_prescribed, powered_eyes, written};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{Acceptable, Check, Context, Severity};
use crate::practice::Threshold;
use crate::trade::eye::Eye;
use crate::trade::optics::Rx;
use crate::trade::optics::tilt::{Tilt, oblique};
use crate::trade::tolerance::DUST;

/// Returns what tilt and face form change of the previous pair's power of an eye, as a thin lens; `None`
/// unless its power and both its angles are recorded.
fn previous(c: &Context<'_>, eye: Eye) -> Option<WornChange> {
    let previous = c.job.prescription.previous.as_ref()?;
    let rx = previous.eye(eye).rx()?;
    let tilt = Tilt {
        pantoscopic_deg: previous.pantoscopic_deg?.get(),
        face_form_deg: previous.face_form_deg?.get(),
    };
    let index = match previous.index {
        Some(index) => index.get(),
        None => material(c.job)?.n_d,
    };
    let worn = oblique(eye, rx, index, tilt).ok()?;
    Some(WornChange::between(rx, worn))
}

/// A pair for near or intermediate is looked through below its centres, an office lens too.
fn is_worn_straight(c: &Context<'_>) -> bool {
    let l = &c.job.lenses;
    let is_single = l.design == Some(Design::SingleVision);
    let is_near = matches!(l.purpose, Some(Purpose::Near | Purpose::Intermediate));
    l.design != Some(Design::Office) && !(is_single && is_near)
}

/// What lowering the centres would leave, in words; nothing where it would not help or is ordered.
fn lowering(c: &Context<'_>, eye: Eye, rx: Rx, now: WornChange) -> String {
    helps(c.job, eye, rx, now).map_or_else(String::new, |(lowered, left)| {
        format!(
            "; centres {lowered:.1} mm below the pupils leave {:.2} D, {:.2} D of it cylinder",
            left.power_d, left.cylinder_d
        )
    })
}

pub(crate) static AS_WORN_ERROR: Check = Check {
    id: CheckId::AsWornError,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "what nobody compensates of tilt and face form changes a principal power by more than {as-worn-error:2} D or adds more than {as-worn-error:2} D of cylinder (a note from {as-worn-note:2}, or where the previous pair had as much to within {as-worn-error:2}); not of single vision near and intermediate pairs nor of office pairs",
    ways_out: &[
        "lower the centres, about 1 mm for 2 degrees (single vision)",
        "adjust the tilt",
        "a design made for its position",
        "let the laboratory compensate",
    ],
    source: "Coddington; Blendowske 2002 for toric lenses; limit of a quarter dioptre by common practice",
    run: |c, found| {
        if !is_worn_straight(c) {
            return;
        }
        let limit = c.threshold(Threshold::AsWornError);
        let note = c.threshold(Threshold::AsWornNote);
        for eye in powered_eyes(c.job) {
            let Some(rx) = ordered_or_prescribed(c.job, eye) else {
                continue;
            };
            let Some(Worn { rx: worn, model }) = worn(c.job, eye, rx) else {
                continue;
            };
            let change = WornChange::between(rx, worn);
            if change.largest_d() + DUST < note {
                continue;
            }
            let before = previous(c, eye);
            let is_known = before.is_some_and(|before| {
                let had = |now: f64, then: f64| now <= limit + DUST || then + limit + DUST >= now;
                had(change.power_d, before.power_d) && had(change.cylinder_d, before.cylinder_d)
            });
            let is_beyond = change.largest_d() > limit + DUST;
            let severity = if is_beyond && !is_known {
                Severity::Warning
            } else {
                Severity::Note
            };
            let known = match before {
                Some(before) if is_beyond && is_known => format!(
                    "; the previous pair had {:.2} D, {:.2} D of it cylinder",
                    before.power_d, before.cylinder_d
                ),
                _ => String::new(),
            };
            let f = &c.job.fitting;
            let mut values = values! {
                "rx" => power_value(rx), "worn" => power_value(worn),
                "pantoscopic_deg" => f.pantoscopic_deg, "face_form_deg" => f.face_form_deg,
            };
            let lowered = lowered_mm(c.job);
            if lowered.abs() > 0.0 {
                values.insert("lowered_mm".to_owned(), to_thousandth(lowered));
            }
            found.add_as(
                severity,
                eye,
                at!(fitting.pantoscopic_deg),
                format!(
                    "{eye} eye: {} is worn as {}: {:.2} D of change, {:.2} D of it cylinder ({}){}{known}",
                    written(rx),
                    written(worn),
                    change.power_d,
                    change.cylinder_d,
                    model.words(),
                    lowering(c, eye, rx, change),
                ),
                values,
                Some(format!("{limit:.2} D")),
            );
        }
    },
};
