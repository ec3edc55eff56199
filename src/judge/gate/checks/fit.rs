//! Checks of how the finished pair sits on the face.

use super::made::height_error_mm;
use super::{nothing_yet, power_value, to_thousandth, values};
use crate::job::fields::at;
use crate::job::{Design, Gate, PowersAs};
use crate::judge::derive::places::design_height;
use crate::judge::derive::powers::powered_eyes;
use crate::judge::derive::powers::{fitted_vertex_mm, ordered_or_prescribed};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Context, PRACTICE, Severity};
use crate::practice::Threshold;
use crate::trade::eye::Eye;
use crate::trade::optics::vertex::strongest_change_d;
use crate::trade::tolerance::DUST;
use crate::trade::units::Millimetre;

pub(crate) static FIT_UNRECORDED: Check = Check {
    id: CheckId::FitUnrecorded,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "vertex distance or length to bend of an eye as handed over is missing (frames without sides apart)",
    ways_out: &["measure and record it: repairs need it"],
    source: PRACTICE,
    run: |c, found| {
        let without_sides = c.job.frame.side_mm == Some(Millimetre::default());
        for eye in Eye::BOTH {
            let h = c.job.handover.eye(eye);
            let missing: Vec<&str> = [
                ("vertex distance", h.vertex_mm.is_none()),
                (
                    "length to bend",
                    h.length_to_bend_mm.is_none() && !without_sides,
                ),
            ]
            .into_iter()
            .filter(|(_, gone)| *gone)
            .map(|(name, _)| name)
            .collect();
            if !missing.is_empty() {
                let field = if h.vertex_mm.is_none() {
                    "vertex_mm"
                } else {
                    "length_to_bend_mm"
                };
                found.add(
                    eye,
                    format!("handover.{eye}.{field}"),
                    format!("{eye} eye as handed over: {} not recorded", missing.join(" and ")),
                    values! {"vertex_mm" => h.vertex_mm, "length_to_bend_mm" => h.length_to_bend_mm},
                    None,
                );
            }
        }
    },
};

/// Returns the distance that the ordered powers of an eye are right for, mm.
fn powers_made_for_mm(c: &Context<'_>, eye: Eye) -> Option<f64> {
    let fitted = c.job.fitting.eye(eye).vertex_mm;
    let tested = c.job.prescription.tested_vertex_mm;
    match c.job.lenses.powers_as() {
        Some(PowersAs::VertexCompensated | PowersAs::AsWornCompensated) => fitted_vertex_mm(c.job),
        Some(
            PowersAs::Prescribed | PowersAs::LaboratoryCompensated | PowersAs::AdaptedToTheTask,
        )
        | None => {
            let accepted = c.acceptances.iter().any(|a| {
                a.check == CheckId::BvdMismatch.word()
                    && a.eye.as_deref() == Some(eye.word())
                    && a.values.get("fitted_mm") == serde_json::to_value(fitted).ok().as_ref()
                    && a.values.get("tested_mm") == serde_json::to_value(tested).ok().as_ref()
            });
            if accepted { fitted } else { tested }.map(Millimetre::get)
        }
    }
}

pub(crate) static FIT_VERTEX: Check = Check {
    id: CheckId::FitVertex,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "from the distance the powers were made for to the one now a principal power changes by {power-change:2} D or more",
    ways_out: &["set the pads"],
    source: "ISO 21987:2017 power tolerance, from memory",
    run: |c, found| {
        let limit = c.threshold(Threshold::PowerChange);
        for eye in powered_eyes(c.job) {
            let (Some(rx), Some(from), Some(now)) = (
                ordered_or_prescribed(c.job, eye),
                powers_made_for_mm(c, eye),
                c.job.handover.eye(eye).vertex_mm,
            ) else {
                continue;
            };
            let Ok(change) = strongest_change_d(rx, from, now.get()) else {
                continue;
            };
            if change.abs() + DUST >= limit {
                found.add(
                    eye,
                    at!(handover[eye].vertex_mm),
                    format!("{eye} eye: powers made for {from:.1} mm, now {now} mm: a principal power changes by {:.2} D", change.abs()),
                    values! {"made_for_mm" => to_thousandth(from), "now_mm" => now, "rx" => power_value(rx)},
                    Some(format!("{limit:.2} D")),
                );
            }
        }
    },
};

pub(crate) static FIT_HEIGHT: Check = Check {
    id: CheckId::FitHeight,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "a height on the face differs from the ordered one by more than {fit-height:1} mm; a stop for power-variation lenses",
    ways_out: &["adjust the frame and measure again", "remake"],
    source: "ISO 21987:2017 position limit",
    run: |c, found| {
        let design = c.job.lenses.design;
        let segment = design.is_some_and(Design::has_segment);
        let limit = c.threshold(Threshold::FitHeight);
        let severity = if design.is_some_and(Design::is_power_variation) {
            Severity::Stop
        } else {
            Severity::Warning
        };
        for eye in powered_eyes(c.job) {
            let h = c.job.handover.eye(eye);
            let (field, now) = if segment {
                ("segment_height_mm", h.segment_height_mm)
            } else {
                ("height_mm", h.height_mm)
            };
            let (Some(ordered), Some(now)) = (design_height(c.job, c.job.fitting.eye(eye)), now)
            else {
                continue;
            };
            let error = height_error_mm(ordered, now);
            if error.abs() > limit + DUST {
                found.add_as(
                    severity,
                    eye,
                    format!("handover.{eye}.{field}"),
                    format!(
                        "{eye} height on the face {now} mm, ordered {ordered} mm: {error:+.1} mm"
                    ),
                    values! {"ordered_mm" => ordered, "now_mm" => now},
                    Some(format!("{limit:.1} mm")),
                );
            }
        }
    },
};

pub(crate) static FIT_TILT: Check = Check {
    id: CheckId::FitTilt,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "the tilt differs from the ordered one by more than {fit-tilt:0} degrees",
    ways_out: &["set the sides"],
    source: "Garcia-Espinilla et al. 2022, repeatability of fitting measurements",
    run: |c, found| {
        let limit = c.threshold(Threshold::FitTilt);
        if let (Some(ordered), Some(now)) = (
            c.job.fitting.pantoscopic_deg,
            c.job.handover.pantoscopic_deg,
        ) && (ordered.get() - now.get()).abs() > limit + DUST
        {
            found.add(
                About::Job,
                at!(handover.pantoscopic_deg),
                format!("pantoscopic angle {now:.1} degrees, ordered {ordered:.1}"),
                values! {"ordered_deg" => ordered, "now_deg" => now},
                Some(format!("{limit:.0} degrees")),
            );
        }
    },
};

pub(crate) static FIT_BEARING: Check = Check {
    id: CheckId::FitBearing,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "pads not level, sides not even or pressure marks (a stop where unanswered)",
    ways_out: &["adjust"],
    source: PRACTICE,
    run: |c, found| {
        let h = &c.job.handover;
        for (field, name, answer) in [
            ("pads_level", "pads level", h.pads_level),
            ("sides_even", "sides even", h.sides_even),
            (
                "no_pressure_marks",
                "no pressure marks",
                h.no_pressure_marks,
            ),
        ] {
            let (severity, says) = match answer {
                Some(true) => continue,
                Some(false) => (Severity::Warning, format!("{name}: no")),
                None => (Severity::Stop, format!("{name}: not looked at")),
            };
            found.add_as(
                severity,
                About::Job,
                format!("handover.{field}"),
                says,
                values! {"what" => name, "answer" => answer},
                None,
            );
        }
    },
};

pub(crate) static NOT_FITTED: Check = Check {
    id: CheckId::NotFitted,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Warning,
    accept: Acceptable::Registrant,
    holds_when: "an adult's pair was posted or taken by another: nothing was seen on the face",
    ways_out: &["give a date to come for the fitting"],
    source: PRACTICE,
    run: nothing_yet,
};
