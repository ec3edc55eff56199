//! The worked-out values as lines for a screen, each beside the field it depends on.

use crate::job::fields::at;
use std::fmt::Write as _;

use chrono::NaiveDate;

use crate::job::{Design, Job, PowersAs};
use crate::practice::Practice;
use crate::trade::eye::Eye;
use crate::trade::optics::vertex::{per_mm_d, round_to_step, strongest_change_d};
use crate::trade::tolerance::DUST;
use crate::trade::units::Millimetre;

use crate::judge::derive::accuracy::budget_rows;
use crate::judge::derive::compensation::{as_worn_compensated, vertex_compensated, worn};
use crate::judge::derive::lens::{least_blank_mm, lens_thickness, magnification_percent};
use crate::judge::derive::office::clear_range_in_words;
use crate::judge::derive::places::{centration_point, near_cd_mm};
use crate::judge::derive::powers::{fitted_vertex_mm, ordered_or_prescribed, prescribed, written};
use crate::judge::derive::segments::at_reading;
use crate::judge::derive::sight::{SightShift, sight_shift};
use crate::judge::rules::remedy::{self, Remedy, RemedyKind};

/// One worked-out value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WorkedLine {
    /// The field it belongs beside (`fitting.right.cd_mm`).
    pub field: String,
    /// What it is.
    pub label: String,
    /// The value with its unit.
    pub text: String,
}

/// What the name of a budget's line ends in.
pub(crate) const MAY_BE_OUT: &str = "may be out";

/// The step to which a compensated power is rounded for an order, dioptres.
const ORDER_STEP_D: f64 = 0.25;

fn mm(value: f64) -> String {
    format!("{value:.1} mm")
}

fn places(job: &Job, out: &mut Vec<WorkedLine>) {
    for eye in Eye::BOTH {
        if let Some(place) = centration_point(job, eye) {
            let side = if place.in_mm >= 0.0 { "in" } else { "out" };
            let mut text = format!("{} {side}", mm(place.in_mm.abs()));
            if job.fitting.eye(eye).height_mm.is_some() {
                let way = if place.up_mm >= 0.0 { "up" } else { "down" };
                let _ = write!(text, ", {} {way}", mm(place.up_mm.abs()));
            }
            push(out, at!(fitting[eye].cd_mm), "decentration", text);
        }
        if let Some(blank) = least_blank_mm(job, eye) {
            push(out, format!("lenses.{eye}"), "smallest blank", mm(blank));
        }
        if let Some(near) = near_cd_mm(job, eye) {
            push(
                out,
                at!(fitting[eye].near_cd_mm),
                "near CD worked out",
                mm(near),
            );
        }
    }
    if let (Some(a), Some(dbl)) = (job.frame.a_mm, job.frame.dbl_mm) {
        push(
            out,
            at!(frame.a_mm),
            "boxed centre distance",
            mm(a.get() + dbl.get()),
        );
    }
}

/// How the prescribed prism moves each line of sight, beside the entries that are ordered by it.
fn sight_lines(job: &Job, out: &mut Vec<WorkedLine>) {
    let label = if job.fitting.prism_in_place == Some(true) {
        "measured with the prism, which moves sight"
    } else {
        "prism moves sight"
    };
    for eye in Eye::BOTH {
        let shift = sight_shift(job, eye);
        let (across, along) = (
            SightShift {
                up_mm: 0.0,
                ..shift
            },
            SightShift {
                out_mm: 0.0,
                ..shift
            },
        );
        if !across.is_none() {
            push(out, at!(fitting[eye].cd_mm), label, across.says());
        }
        if !along.is_none() {
            let field = if job.lenses.design.is_some_and(Design::has_segment) {
                at!(fitting[eye].segment_height_mm)
            } else {
                at!(fitting[eye].height_mm)
            };
            push(out, field, label, along.says());
        }
    }
}

fn vertex_lines(job: &Job, practice: &Practice, out: &mut Vec<WorkedLine>) {
    let (Some(from), Some(to)) = (
        job.prescription.tested_vertex_mm.map(Millimetre::get),
        fitted_vertex_mm(job),
    ) else {
        return;
    };
    let is_worn_there = remedy::is_worn_there(job, &practice.thresholds);
    for eye in Eye::BOTH {
        let Some(rx) = prescribed(job, eye) else {
            continue;
        };
        if let Some(remedy) = remedy::of_job(job, eye, &practice.thresholds) {
            remedy_lines(&remedy, out);
        }
        if let Ok(change) = strongest_change_d(rx, from, to) {
            push(
                out,
                at!(fitting[eye].vertex_mm),
                "tested to fitted",
                format!(
                    "{from:.1} to {to:.1} mm changes {change:.2} D, {:.3} D a mm",
                    per_mm_d(rx).abs()
                ),
            );
        }
        if let Some(exact) = vertex_compensated(job, eye)
            && is_worn_there
            && (from - to).abs() > DUST
        {
            let rounded = round_to_step(exact, ORDER_STEP_D);
            push(
                out,
                format!("powers.{eye}.sphere_d"),
                "compensated for vertex",
                format!("{} exact, {} in quarters", written(exact), written(rounded)),
            );
        }
    }
}

/// Setting the frame comes before any other power, here as at the gate.
fn remedy_lines(r: &Remedy, out: &mut Vec<WorkedLine>) {
    let remaining_d = |kind| r.way(kind).map_or(0.0, |w| w.remaining_d);
    let texts = [
        (
            "set the frame",
            format!(
                "{} {}, to {}: {:.2} D",
                mm(r.move_mm().abs()),
                r.direction(),
                mm(r.correct_at_mm),
                remaining_d(RemedyKind::SetExactly)
            ),
        ),
        (
            "  to within 1 mm",
            format!("at most {:.2} D left", remaining_d(RemedyKind::SetNearly)),
        ),
        (
            "  else compensated",
            format!(
                "{:.2} D left in quarters",
                remaining_d(RemedyKind::OrderQuarters)
            ),
        ),
        (
            "  left as it is",
            format!("{:.2} D of error", remaining_d(RemedyKind::Leave)),
        ),
    ];
    for (label, text) in texts {
        push(out, at!(fitting[r.eye].vertex_mm), label, text);
    }
}

fn worn_lines(job: &Job, practice: &Practice, out: &mut Vec<WorkedLine>) {
    for eye in Eye::BOTH {
        let Some(rx) = ordered_or_prescribed(job, eye) else {
            continue;
        };
        if let Some(w) = worn(job, eye, rx) {
            let model = w.model.short();
            push(
                out,
                format!("powers.{eye}.sphere_d"),
                "as worn",
                format!("{} ({model})", written(w.rx)),
            );
        }
        if job.lenses.powers_as() == Some(PowersAs::AsWornCompensated)
            && remedy::is_worn_there(job, &practice.thresholds)
            && let Some(rx) = as_worn_compensated(job, eye)
        {
            push(
                out,
                format!("powers.{eye}.sphere_d"),
                "compensated as worn",
                written(rx),
            );
        }
    }
}

fn lens_lines(job: &Job, today: NaiveDate, out: &mut Vec<WorkedLine>) {
    for eye in Eye::BOTH {
        if let Some(t) = lens_thickness(job, eye) {
            push(
                out,
                format!("lenses.{eye}"),
                "thickness",
                format!(
                    "centre {}, edge {} at most",
                    mm(t.centre_mm),
                    mm(t.edge_max_mm)
                ),
            );
        }
        if let Some(percent) = magnification_percent(job, eye) {
            push(
                out,
                format!("lenses.{eye}"),
                "image size",
                format!("{percent:+.1} %"),
            );
        }
    }
    if let Some(range) = clear_range_in_words(job, today) {
        for field in [at!(lenses.far_mm), at!(lenses.power_drop_d)] {
            push(out, field, "clear", range.clone());
        }
    }
    if let Some(near) = at_reading(job) {
        let text = format!(
            "{:.2} prism dioptres, {:.0} mm below",
            near.left_delta(),
            near.drop_mm
        );
        let label = "vertical prism difference at near";
        push(out, at!(lenses.design), label, text);
    }
}

fn budget_lines(job: &Job, practice: &Practice, out: &mut Vec<WorkedLine>) {
    for row in budget_rows(job, practice) {
        if let Some(text) = row.text() {
            let label = format!("{} {MAY_BE_OUT}", row.label);
            push(out, row.field, &label, text);
        }
    }
}

fn push(out: &mut Vec<WorkedLine>, field: impl Into<String>, label: &str, text: impl Into<String>) {
    out.push(WorkedLine {
        field: field.into(),
        label: label.to_owned(),
        text: text.into(),
    });
}

/// Returns every value that can be worked out from a job on a day.
pub fn lines(job: &Job, practice: &Practice, today: NaiveDate) -> Vec<WorkedLine> {
    let mut out = Vec::new();
    places(job, &mut out);
    sight_lines(job, &mut out);
    vertex_lines(job, practice, &mut out);
    worn_lines(job, practice, &mut out);
    lens_lines(job, today, &mut out);
    budget_lines(job, practice, &mut out);
    out
}
