//! Checks of what the lenses do differently to the eyes: prism at the reading point, image size.

use super::{power_value, to_thousandth, values};
use crate::job::fields::at;
use crate::job::{Design, Gate, Purpose};
use crate::judge::derive::lens::magnification_percent;
use crate::judge::derive::places::reading_drop_mm;
use crate::judge::derive::powers::ordered_or_prescribed;
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Severity};
use crate::practice::Threshold;
use crate::trade::eye::{Eye, PerEye};
use crate::trade::optics::near_prism::reading_prism;
use crate::trade::tolerance::DUST;

pub(crate) static ANISO_NEAR: Check = Check {
    id: CheckId::AnisoNear,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the eyes' vertical prism differs by more than {aniso-near:1} at the reading point of a multifocal or general pair",
    ways_out: &[
        "a separate reading pair",
        "prism control in the lower part (slab-off)",
        "unequal segments",
    ],
    source: "McCarthy, anisometropia; common practice",
    run: |c, found| {
        let l = &c.job.lenses;
        if !l.design.is_some_and(Design::needs_addition) && l.purpose != Some(Purpose::General) {
            return;
        }
        let powers = PerEye::from_fn(|eye| ordered_or_prescribed(c.job, eye));
        let Some((right, left)) = powers.both() else {
            return;
        };
        let (right, left) = (*right, *left);
        let drop = reading_drop_mm(c.job);
        let apart = reading_prism(PerEye { right, left }, drop, 0.0)
            .vertical_difference_delta
            .abs();
        let limit = c.threshold(Threshold::AnisoNear);
        if apart > limit + DUST {
            found.add(
                About::Pair,
                at!(lenses.design),
                format!("{drop:.0} mm below the centres the eyes' vertical prism differs by {apart:.2} prism dioptres"),
                values! {"right" => power_value(right), "left" => power_value(left), "drop_mm" => drop},
                Some(format!("{limit:.2} prism dioptres")),
            );
        }
    },
};

pub(crate) static ANISEIKONIA: Check = Check {
    id: CheckId::Aniseikonia,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the estimated magnification of the eyes differs by more than {aniseikonia:0} percent points",
    ways_out: &[
        "match curves and thickness",
        "a shorter vertex distance",
        "a contact lens",
    ],
    source: "Duane's, chapter 47: symptoms from 3 to 5 %",
    run: |c, found| {
        let sizes = PerEye::from_fn(|eye| magnification_percent(c.job, eye));
        let Some((right, left)) = sizes.both() else {
            return;
        };
        let limit = c.threshold(Threshold::Aniseikonia);
        let apart = (right - left).abs();
        if apart > limit + DUST {
            let vertex = |eye| c.job.fitting.eye(eye).vertex_mm;
            found.add(
                About::Pair,
                at!(lenses.base_d),
                format!("image size right {right:+.1} %, left {left:+.1} %: {apart:.1} percent points apart"),
                values! {
                    "right_percent" => to_thousandth(*right), "left_percent" => to_thousandth(*left),
                    "right_vertex_mm" => vertex(Eye::Right), "left_vertex_mm" => vertex(Eye::Left),
                },
                Some(format!("{limit:.1} percent points")),
            );
        }
    },
};
