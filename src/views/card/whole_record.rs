//! Everything that was recorded of a job, as lines: the card, what follows it, and the values
//! that neither shows.

use super::card_data::CardData;
use super::lines::arranged;
use super::second_card::second_card;
use crate::job::fields::{FieldRef, also_recorded};
use crate::job::{Job, Section};
use crate::judge::gate::Acceptance;

/// Width at which no line of the card is cut: a reader of lines has no edge of a screen.
const UNCUT: usize = 1000;
/// What lies between the two halves of such a line, at the least.
const GAP: &str = "                    ";

/// Returns the record of a job, one thing a line.
///
/// `number` is the job's number in the book; `data` was worked out for this job.
pub fn whole_record(
    job: &Job,
    number: &str,
    acceptances: &[Acceptance],
    data: &CardData,
) -> Vec<String> {
    let cards = |job: &Job| card_lines(job, number, acceptances, data);
    let also = also_recorded(job, cards);
    let mut lines = cards(job);
    if !also.is_empty() {
        lines.push("Also recorded".to_owned());
    }
    for section in Section::ALL {
        let of_section: Vec<String> = also
            .iter()
            .filter(|(field, _)| field.section == *section)
            .map(|(field, value)| named(field, value))
            .collect();
        if !of_section.is_empty() {
            lines.push(format!("{section}: {}", of_section.join(" · ")));
        }
    }
    lines
}

fn named(field: FieldRef, value: &str) -> String {
    // A note may have several lines.
    let value = value.split_whitespace().collect::<Vec<_>>().join(" ");
    match field.eye {
        Some(eye) => format!("{eye} {} {value}", field.label),
        None => format!("{} {value}", field.label),
    }
}

fn card_lines(job: &Job, number: &str, acceptances: &[Acceptance], data: &CardData) -> Vec<String> {
    let mut lines = Vec::new();
    for line in arranged(job, number, data, UNCUT) {
        // The card sets two things side by side; heard one after the other, each is a line.
        let said = format!("{} {}", line.label, line.value);
        let parts = said.split(GAP).map(str::trim);
        lines.extend(parts.filter(|p| !p.is_empty()).map(str::to_owned));
    }
    for line in second_card(job, acceptances, data, UNCUT) {
        lines.push(format!("{} {}", line.label, line.value));
    }
    lines
}
