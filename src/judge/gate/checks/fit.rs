//! Checks of how the finished pair sits on the face.

use super::made::height_error_mm;
use super::restricted::{is_restricted_child, restricts};
use super::{power_value, to_thousandth, values};
use crate::job::fields::at;
use crate::job::{Compensator, Design, EyeHandover, Gate, HandoverMethod};
use crate::judge::derive::compensates::who_compensates;
use crate::judge::derive::places::design_height;
use crate::judge::derive::powers::powered_eyes;
use crate::judge::derive::powers::{fitted_vertex_mm, ordered_or_prescribed};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;
use crate::judge::gate::{About, Acceptable, Check, Context, PRACTICE, Severity};
use crate::judge::rules::advice::is_first_multifocal;
use crate::practice::{Threshold, Way};
use crate::trade::eye::Eye;
use crate::trade::optics::vertex::strongest_change_d;
use crate::trade::tolerance::DUST;
use crate::trade::units::Millimetre;

/// How an adult's pair reached its wearer without being seen on the face; none where it was fitted.
/// Where some groups are restricted, a child's is the matter of `restricted-handover` alone.
pub(super) fn not_fitted(c: &Context<'_>) -> Option<HandoverMethod> {
    let day = c.job.handover.given_on.unwrap_or(c.around.today);
    let child = restricts(c) && is_restricted_child(c, day);
    let method = c.job.handover.method.filter(|m| !m.is_in_person());
    method.filter(|_| !child)
}

/// Returns the key and the value of the height on the face that counts for the design.
fn height_on_the_face(
    design: Option<Design>,
    h: &EyeHandover,
) -> (&'static str, Option<Millimetre>) {
    if design.is_some_and(Design::has_segment) {
        ("segment_height_mm", h.segment_height_mm)
    } else {
        ("height_mm", h.height_mm)
    }
}

pub(crate) static FIT_UNRECORDED: Check = Check {
    id: CheckId::FitUnrecorded,
    about: Work::Wearer,
    gate: Gate::Collected,
    at_every_gate: false,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "vertex distance or length to bend of an eye as handed over is missing (frames without sides apart), or of a first multifocal pair its height on the face",
    ways_out: &["measure and record it: repairs need it"],
    source: PRACTICE,
    run: |c, found| {
        if not_fitted(c).is_some() {
            return;
        }
        let without_sides = c.job.frame.side_mm == Some(Millimetre::default());
        let needs_height = is_first_multifocal(c.job);
        for eye in Eye::BOTH {
            let h = c.job.handover.eye(eye);
            let (height_key, height) = height_on_the_face(c.job.lenses.design, h);
            let height_is_asked = needs_height && powered_eyes(c.job).any(|powered| powered == eye);
            let missing: Vec<(&str, &str)> = [
                ("vertex_mm", "vertex distance", h.vertex_mm.is_none()),
                (
                    "length_to_bend_mm",
                    "length to bend",
                    h.length_to_bend_mm.is_none() && !without_sides,
                ),
                (
                    height_key,
                    "height on the face",
                    height_is_asked && height.is_none(),
                ),
            ]
            .into_iter()
            .filter(|(.., gone)| *gone)
            .map(|(key, name, _)| (key, name))
            .collect();
            let Some((key, _)) = missing.first() else {
                continue;
            };
            let names: Vec<&str> = missing.iter().map(|(_, name)| *name).collect();
            let mut values =
                values! {"vertex_mm" => h.vertex_mm, "length_to_bend_mm" => h.length_to_bend_mm};
            if height_is_asked {
                values.append(&mut values! {"height_mm" => height});
            }
            found.add(
                eye,
                format!("handover.{eye}.{key}"),
                format!(
                    "{eye} eye as handed over: {} not recorded. Measure and record it.",
                    names.join(" and ")
                ),
                values,
                None,
            );
        }
    },
};

/// Returns the distance that the ordered powers of an eye are right for, mm.
fn powers_made_for_mm(c: &Context<'_>, eye: Eye) -> Option<f64> {
    let fitted = c.job.fitting.eye(eye).vertex_mm;
    let tested = c.job.prescription.tested_vertex_mm;
    match who_compensates(c.job).vertex {
        Compensator::Practice | Compensator::Laboratory => fitted_vertex_mm(c.job),
        Compensator::Nobody => {
            let accepted = c.acceptances.iter().any(|a| {
                a.check == CheckId::BvdMismatch.word()
                    && a.eye.as_deref() == Some(eye.word())
                    && a.values.get("fitted_mm") == serde_json::to_value(fitted).ok().as_ref()
                    && a.values.get("tested_mm") == serde_json::to_value(tested).ok().as_ref()
            });
            tested.filter(|_| !accepted).or(fitted).map(Millimetre::get)
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
        let limit = c.threshold(Threshold::FitHeight);
        let severity = if design.is_some_and(Design::is_power_variation) {
            Severity::Stop
        } else {
            Severity::Warning
        };
        for eye in powered_eyes(c.job) {
            let (field, now) = height_on_the_face(design, c.job.handover.eye(eye));
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
                        "{eye} height on the face {now} mm, ordered {ordered} mm: {error:+.1} mm. Adjust the frame and measure again."
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
                format!("pantoscopic angle {now:.1} degrees, ordered {ordered:.1}. Set the sides."),
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
        if not_fitted(c).is_some() {
            return;
        }
        let h = &c.job.handover;
        for (field, name, not, answer) in [
            (
                "pads_level",
                "pads level",
                "pads or bridge are not level",
                h.pads_level,
            ),
            (
                "sides_even",
                "sides even",
                "the sides are not even",
                h.sides_even,
            ),
            (
                "no_pressure_marks",
                "no pressure marks",
                "there are pressure marks",
                h.no_pressure_marks,
            ),
        ] {
            let (severity, says) = match answer {
                Some(true) => continue,
                Some(false) => (Severity::Warning, format!("{not}. Adjust.")),
                None => (
                    Severity::Stop,
                    format!("{name}: not looked at. Look, and record it."),
                ),
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
    holds_when: "an adult's pair was posted or taken by another: nothing was seen on the face; a stop where the practice does not do so",
    ways_out: &["give a date to come for the fitting"],
    source: PRACTICE,
    run: |c, found| {
        let Some(method) = not_fitted(c) else {
            return;
        };
        let (severity, says) = if c.around.practice.allows(Way::Posted) {
            (
                Severity::Warning,
                format!(
                    "the pair is {method}, so nothing was seen on the face. Give a date to come for the fitting."
                ),
            )
        } else {
            (
                Severity::Stop,
                format!(
                    "the pair is {method}, and this practice hands pairs over in person only. Give a date to come for it."
                ),
            )
        };
        found.add_as(
            severity,
            About::Job,
            at!(handover.method),
            says,
            values! {"method" => method},
            None,
        );
    },
};
