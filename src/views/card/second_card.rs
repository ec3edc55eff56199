//! The lines after the card where there is room: tint and coatings, readings, acceptances.

use unicode_width::UnicodeWidthStr;

use super::card_data::{CardData, Written};
use super::card_line::{CardLine, Emphasis, LABEL_WIDTH, WIDE_FROM};
use super::changed_by_repairs::Changed;
use super::lines::{finish, flags, laboratory};
use super::value_text::{joined, known, powers};
use crate::job::Job;
use crate::job::fields::{at, listed_line};
use crate::judge::gate::Acceptance;
use crate::trade::eye::Eye;

/// Returns the lines after the card of a job.
pub fn second_card(
    job: &Job,
    acceptances: &[Acceptance],
    data: &CardData,
    width: usize,
) -> Vec<CardLine> {
    let job = &Written::of(job, data);
    let line = |label, value: &str| CardLine::new(label, value, Emphasis::Plain, width);
    let mut lines = Vec::new();
    let parts: Vec<String> = job.changed().iter().map(Changed::text).collect();
    let room = width.saturating_sub(LABEL_WIDTH);
    // The card has them in one line; where that is cut, each is repeated here.
    if parts.join(" · ").width() > room {
        for part in &parts {
            lines.push(CardLine::new("now", part, Emphasis::Strong, width));
        }
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
    // The wide card shows the changed values in place of both.
    if width >= WIDE_FROM && !parts.is_empty() && !flags(job).is_empty() {
        lines.push(line("with", &finish(job)));
        lines.push(line("order", &laboratory(job)));
    }
    if let Some(reference) = known(job, at!(order.reference)) {
        lines.push(line("ref", &reference));
    }
    let also = listed_line(job, " · ");
    if !also.is_empty() {
        lines.push(line("also", &also));
    }
    if job.readings.taken_on.is_some() || job.readings.right.sphere_d.is_some() {
        for (eye, label) in [(Eye::Right, "read R"), (Eye::Left, "read L")] {
            lines.push(line(label, &powers(job, at!(readings[eye].sphere_d))));
        }
    }
    for a in acceptances {
        let eye = a.eye.as_ref().map_or_else(String::new, |e| format!(" {e}"));
        let words = format!("{}{eye} by {}: {}", a.check, a.by, a.reason);
        lines.push(line("agreed", &words));
    }
    lines
}
