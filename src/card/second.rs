//! What stands after the card where there is room: tint and coatings, the readings, what was accepted.

use super::words::{at, joined, known, powers};
use super::{CardLine, Emphasis, now};
use crate::eye::Eye;
use crate::gate::Acceptance;
use crate::job::Job;

/// Returns the lines after the card of a job.
pub fn second_card(job: &Job, acceptances: &[Acceptance], width: usize) -> Vec<CardLine> {
    let line = |label, value: &str| CardLine::new(label, value, Emphasis::Plain, width);
    let mut lines = Vec::new();
    for part in now::parts(job) {
        lines.push(CardLine::new("now", &part, Emphasis::Strong, width));
    }
    let repairs = &job.aftercare.repairs;
    for repair in repairs {
        let words = joined(
            [
                repair.on.map(|on| on.to_string()),
                repair.kind.map(|k| k.word().to_owned()),
                repair.note.clone(),
                repair.by.clone(),
            ],
            " · ",
        );
        lines.push(line("repair", &words));
    }
    let with = joined(
        [
            known(job, "lenses.coatings").filter(|c| c != "none"),
            known(job, "lenses.tint.colour").map(|t| format!("tint {t}")),
        ],
        " · ",
    );
    if job.lenses.coatings.is_some() || job.lenses.tint.is_some() {
        lines.push(line("with", &with));
    }
    if job.order.laboratory.is_some() {
        let order = format!(
            "{} · ref {}",
            at(job, "order.laboratory"),
            at(job, "order.reference")
        );
        lines.push(line("order", &order));
    }
    if job.readings.taken_on.is_some() || job.readings.right.sphere_d.is_some() {
        for (eye, label) in [(Eye::Right, "read R"), (Eye::Left, "read L")] {
            lines.push(line(label, &powers(job, "readings", eye)));
        }
    }
    for a in acceptances {
        let eye = a.eye.as_ref().map_or_else(String::new, |e| format!(" {e}"));
        let words = format!("{}{eye} by {}: {}", a.check, a.by, a.reason);
        lines.push(line("agreed", &words));
    }
    lines
}
