//! Checks of who compensates the powers for what.

use serde_json::Value;

use super::values;
use crate::job::fields::at;
use crate::job::{Compensator, Gate};
use crate::judge::derive::compensates::{contained, who_compensates};
use crate::judge::derive::powers::{powered_eyes, strength_d};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, PRACTICE, Severity};
use crate::practice::Threshold;
use crate::trade::tolerance::DUST;

pub(crate) static COMPENSATED_TWICE: Check = Check {
    id: CheckId::CompensatedTwice,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the practice has compensated the powers for what the laboratory is to compensate too",
    ways_out: &["say who does it"],
    source: PRACTICE,
    run: |c, found| {
        let Some(kind) = c.job.lenses.powers_as() else {
            return;
        };
        let contained = contained(kind);
        let who = who_compensates(c.job);
        for ((what, by), is_contained) in
            who.each()
                .into_iter()
                .zip([contained.vertex, contained.tilt, contained.face_form])
        {
            if is_contained && by == Compensator::Laboratory {
                found.add(
                    About::Job,
                    at!(lenses.powers.as),
                    format!("the powers are {kind}, so {what} is in them, and the laboratory is to compensate for {what} again"),
                    values! {"what" => what, "as" => kind},
                    None,
                );
            }
        }
    },
};

pub(crate) static COMPENSATION_UNMEASURED: Check = Check {
    id: CheckId::CompensationUnmeasured,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "the laboratory is to compensate for vertex distance, pantoscopic angle or face form, and that is not measured (vertex distance: of each eye)",
    ways_out: &["measure it"],
    source: PRACTICE,
    run: |c, found| {
        let who = who_compensates(c.job);
        let f = &c.job.fitting;
        // Of a strong pair `bvd-unmeasured` asks.
        let is_strong = strength_d(c.job) + DUST >= c.threshold(Threshold::Strong);
        if who.vertex == Compensator::Laboratory && !is_strong {
            for eye in powered_eyes(c.job) {
                if f.eye(eye).vertex_mm.is_none() {
                    found.add(
                        eye,
                        at!(fitting[eye].vertex_mm),
                        format!("the laboratory is to compensate for vertex distance, and that of the {eye} eye is not measured"),
                        values! {"what" => "vertex distance", "fitted_mm" => Value::Null},
                        None,
                    );
                }
            }
        }
        for (what, by, is_measured, field) in [
            (
                "tilt",
                who.tilt,
                f.pantoscopic_deg.is_some(),
                at!(fitting.pantoscopic_deg),
            ),
            (
                "face form",
                who.face_form,
                f.face_form_deg.is_some(),
                at!(fitting.face_form_deg),
            ),
        ] {
            if by == Compensator::Laboratory && !is_measured {
                found.add(
                    About::Job,
                    field,
                    format!("the laboratory is to compensate for {what}, and it is not measured"),
                    values! {"what" => what},
                    None,
                );
            }
        }
    },
};
