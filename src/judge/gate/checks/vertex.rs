//! Checks of the vertex distance: tested, fitted, and what the difference does to the powers.

use crate::job::fields::at;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::trade::tolerance::DUST;
use serde_json::Value;

use super::{power_value, to_thousandth, values};
use crate::job::{Compensator, Gate, PowersAs};
use crate::judge::derive::compensates::who_compensates;
use crate::judge::derive::powers::powered_eyes;
use crate::judge::derive::powers::{prescribed, strength_d};
use crate::judge::gate::{About, Acceptable, Check, Context, PRACTICE, Severity};
use crate::judge::rules::remedy::way_to;
use crate::practice::Threshold;
use crate::trade::eye::Eye;
use crate::trade::optics::vertex::strongest_change_d;
use crate::trade::units::Millimetre;

fn is_strong(c: &Context<'_>) -> bool {
    strength_d(c.job) + DUST >= c.threshold(Threshold::Strong)
}

pub(crate) static BVD_MISSING: Check = Check {
    id: CheckId::BvdMissing,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "strength {strong-pair:2} D or more and no tested vertex distance",
    ways_out: &[
        "ask the prescriber",
        "check in a trial frame at a known distance",
    ],
    source: "BS 2738-3 on presenting prescriptions, from memory",
    run: |c, found| {
        if is_strong(c) && c.job.prescription.tested_vertex_mm.is_none() {
            found.add(
                About::Job,
                at!(prescription.tested_vertex_mm),
                format!("strength {:.2} D and no tested vertex distance: ask for it, or test at a known one", strength_d(c.job)),
                values! {
                    "strength_d" => to_thousandth(strength_d(c.job)),
                    "tested_mm" => c.job.prescription.tested_vertex_mm,
                },
                Some(format!("needed from {:.2} D", c.threshold(Threshold::Strong))),
            );
        }
    },
};

pub(crate) static BVD_UNMEASURED: Check = Check {
    id: CheckId::BvdUnmeasured,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "strength {strong-pair:2} D or more, or powers as-worn compensated, and no fitted vertex distance",
    ways_out: &["measure it with the adjusted frame on"],
    source: PRACTICE,
    run: |c, found| {
        let as_worn = c.job.lenses.powers_as() == Some(PowersAs::AsWornCompensated);
        if !is_strong(c) && !as_worn {
            return;
        }
        for eye in powered_eyes(c.job) {
            if c.job.fitting.eye(eye).vertex_mm.is_none() {
                found.add(
                    eye,
                    at!(fitting[eye].vertex_mm),
                    format!("no fitted vertex distance of the {eye} eye, strength {:.2} D: measure it with the frame adjusted", strength_d(c.job)),
                    values! {"fitted_mm" => Value::Null, "strength_d" => to_thousandth(strength_d(c.job))},
                    Some(format!("needed from {:.2} D, or when compensated as worn", c.threshold(Threshold::Strong))),
                );
            }
        }
    },
};

pub(crate) static BVD_MISMATCH: Check = Check {
    id: CheckId::BvdMismatch,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "strength {strong-pair:2} D or more, vertex distance compensated by nobody, and tested to fitted changes a principal power by {power-change:2} D or more",
    ways_out: &[
        "set the frame to the tested distance (pads, bridge, tilt)",
        "else compensate the powers (registered person), or let the laboratory",
        "another frame",
    ],
    source: "ISO 21987:2017 power tolerance, from memory",
    run: |c, found| {
        let by_nobody = who_compensates(c.job).vertex == Compensator::Nobody;
        if !is_strong(c) || !by_nobody || c.job.lenses.powers_as().is_none() {
            return;
        }
        let Some(tested) = c.job.prescription.tested_vertex_mm else {
            return;
        };
        let limit = c.threshold(Threshold::PowerChange);
        for eye in powered_eyes(c.job) {
            let (Some(rx), Some(fitted)) =
                (prescribed(c.job, eye), c.job.fitting.eye(eye).vertex_mm)
            else {
                continue;
            };
            let Ok(change) = strongest_change_d(rx, tested.get(), fitted.get()) else {
                continue;
            };
            if change.abs() + DUST >= limit {
                let away = fitted.get() - tested.get();
                let way = way_to(fitted.get(), tested.get());
                found.add(
                    eye,
                    at!(fitting[eye].vertex_mm),
                    format!(
                        "{eye} eye: tested at {tested} mm, fitted at {fitted} mm changes a principal power by {:.2} D; set it {:.1} mm {way}",
                        change.abs(), away.abs()
                    ),
                    values! {
                        "tested_mm" => tested, "fitted_mm" => fitted,
                        "rx" => power_value(rx), "change_d" => to_thousandth(change.abs()),
                    },
                    Some(format!("{limit:.2} D")),
                );
            }
        }
    },
};

pub(crate) static BVD_UNEQUAL: Check = Check {
    id: CheckId::BvdUnequal,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the fitted vertex distances of the eyes differ by more than {vertex-unequal:1} mm",
    ways_out: &["level the frame and measure again"],
    source: PRACTICE,
    run: |c, found| {
        let f = &c.job.fitting;
        if let (Some(r), Some(l)) = (f.eye(Eye::Right).vertex_mm, f.eye(Eye::Left).vertex_mm) {
            let limit = c.threshold(Threshold::VertexUnequal);
            let apart = difference_mm(r, l);
            if apart > limit + DUST {
                found.add(
                    About::Pair,
                    at!(fitting.right.vertex_mm),
                    format!("vertex distances right {r}, left {l} mm: {apart:.1} mm apart"),
                    values! {"right_mm" => r, "left_mm" => l},
                    Some(format!("{limit:.1} mm")),
                );
            }
        }
    },
};

/// Returns how far two lengths are apart, mm.
pub(super) fn difference_mm(a: Millimetre, b: Millimetre) -> f64 {
    (a.get() - b.get()).abs()
}
