//! Telling the wearer: who waits, and what was said to whom and how.

use crate::book::desk::JobLine;
use crate::job::{Contact, ContactBy};
use crate::tui::effect::Deed;
use crate::tui::line::Line;
use crate::tui::next::{Next, Question};
use crate::tui::seen::Seen;

/// One way to contact a wearer.
#[derive(Debug, Clone, Copy)]
struct ContactMethod {
    words: &'static str,
    how: ContactBy,
    /// Whether it reached the wearer; None where that is not known.
    reached: Option<bool>,
    /// Whether the usual sentence is put in beforehand.
    says_ready: bool,
}

const fn method(
    words: &'static str,
    how: ContactBy,
    reached: Option<bool>,
    says_ready: bool,
) -> ContactMethod {
    ContactMethod {
        words,
        how,
        reached,
        says_ready,
    }
}

/// The ways to contact a wearer, in the order in which they are asked.
const CONTACT_METHODS: [ContactMethod; 7] = [
    method(
        "spoken to on the telephone",
        ContactBy::Telephone,
        Some(true),
        true,
    ),
    method(
        "telephone tried, not reached",
        ContactBy::Telephone,
        Some(false),
        false,
    ),
    method(
        "message left on the telephone",
        ContactBy::Voicemail,
        None,
        true,
    ),
    method("short message", ContactBy::Message, None, true),
    method("e-mail", ContactBy::Email, None, true),
    method("letter", ContactBy::Letter, None, true),
    method("in person", ContactBy::InPerson, Some(true), true),
];

/// What is mostly said.
const READY: &str = "the pair is ready to be collected";

/// Asks how the wearer of a job was told.
pub(crate) fn ask(line: Option<&JobLine>, seen: Seen<'_>) -> Next {
    let Some(line) = line else {
        return Next::complain("No job is selected: nobody to be told.");
    };
    let number = line.number.clone();
    let phone = (seen.waiting.iter())
        .find(|w| w.number == number)
        .and_then(|w| w.phone.clone())
        .or_else(|| {
            let card = seen.card.filter(|c| c.number == number)?;
            card.job.wearer.phone.clone()
        });
    ask_of(&number, &line.wearer, phone)
}

fn ask_of(number: &str, wearer: &str, phone: Option<String>) -> Next {
    let phone = phone.map_or_else(String::new, |p| format!(", telephone {p}"));
    let offered = (CONTACT_METHODS.iter())
        .map(|w| (w.words.to_owned(), what_was_said(number.to_owned(), *w)))
        .collect();
    Next::Ask(Question::choose(
        format!("{number} {wearer}{phone}: how was the wearer told?"),
        offered,
    ))
}

/// Asks what the wearer of a job was told.
fn what_was_said(number: String, way: ContactMethod) -> Next {
    let line = if way.says_ready {
        Line::of(READY)
    } else {
        Line::default()
    };
    let title = format!("{}: what was said or left?", way.words);
    Next::Ask(Question::text(title, line, move |text| {
        Ok(Next::Act(Deed::Contact {
            number: number.clone(),
            contact: Box::new(Contact {
                how: Some(way.how),
                told: (!text.is_empty()).then(|| text.to_owned()),
                reached: way.reached,
                ..Contact::default()
            }),
        }))
    }))
}

/// Shows who waits, the longest waiting first.
pub(crate) fn show(seen: Seen<'_>) -> Next {
    if seen.waiting.is_empty() {
        return Next::say("No pair that is ready waits without an appointment.");
    }
    let offered = (seen.waiting.iter())
        .map(|w| {
            let mark = if w.uncollected { "! " } else { "  " };
            let label = format!("{mark}{} {}: {}", w.number, w.wearer, w.words());
            (label, ask_of(&w.number, &w.wearer, w.phone.clone()))
        })
        .collect();
    Next::Ask(Question::choose(
        "Ready and not collected, the longest waiting first; ! is longer than the practice waits. Enter records that the wearer was told.",
        offered,
    ))
}
