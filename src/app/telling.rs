//! Telling the wearer: who waits, and what was said to whom and how.

use super::action::Action;
use super::dialog::{Dialog, Purpose};
use super::effect::{Deed, Effect};
use super::line::Line;
use super::selected::selected;
use super::{App, people};
use crate::job::{Contact, ContactBy};

/// How the wearer was told, as it is asked; whether that reached them.
const WAYS: [(&str, ContactBy, Option<bool>); 7] = [
    (
        "spoken to on the telephone",
        ContactBy::Telephone,
        Some(true),
    ),
    (
        "telephone tried, not reached",
        ContactBy::Telephone,
        Some(false),
    ),
    ("message left on the telephone", ContactBy::Voicemail, None),
    ("short message", ContactBy::Message, None),
    ("e-mail", ContactBy::Email, None),
    ("letter", ContactBy::Letter, None),
    ("in person", ContactBy::InPerson, Some(true)),
];

/// What is mostly said.
const READY: &str = "the pair is ready to be collected";

/// Does an action of telling.
pub(crate) fn act(app: &mut App, action: Action) -> Vec<Effect> {
    if action == Action::Told {
        ask(app);
    } else {
        show(app);
    }
    Vec::new()
}

/// Asks how the wearer of the selected job was told.
fn ask(app: &mut App) {
    let Some(line) = selected(app) else {
        app.complain("No job is selected: nobody to be told.");
        return;
    };
    let (number, wearer) = (line.number.clone(), line.wearer.clone());
    ask_of(app, number, &wearer);
}

fn ask_of(app: &mut App, number: String, wearer: &str) {
    let phone = app
        .waiting
        .iter()
        .find(|w| w.number == number)
        .and_then(|w| w.phone.clone())
        .or_else(|| {
            let card = app.card.as_ref().filter(|c| c.number == number)?;
            card.job.wearer.phone.clone()
        })
        .map_or_else(String::new, |p| format!(", telephone {p}"));
    let items = WAYS.iter().map(|(words, ..)| (*words).to_owned()).collect();
    app.choose(
        &format!("{number} {wearer}{phone}: how was the wearer told?"),
        items,
        Purpose::ContactHow { number },
    );
}

/// Takes a choice.
pub(crate) fn chosen(app: &mut App, purpose: Purpose, index: usize) -> Vec<Effect> {
    match purpose {
        Purpose::ContactHow { number } => how(app, number, index),
        _ => who(app, index),
    }
    Vec::new()
}

/// Takes how; asks what was said.
fn how(app: &mut App, number: String, index: usize) {
    let Some((words, ..)) = WAYS.get(index) else {
        return;
    };
    app.ask(
        format!("{words}: what was said or left?"),
        Purpose::ContactTold { number, how: index },
    );
    if let Some(Dialog::Text { line, .. }) = &mut app.dialog
        && index != 1
    {
        *line = Line::of(READY);
    }
}

/// Takes what was said.
pub(crate) fn told(app: &mut App, number: &str, index: usize, text: &str) -> Vec<Effect> {
    let Some((_, how, reached)) = WAYS.get(index).copied() else {
        return Vec::new();
    };
    let told = (!text.is_empty()).then(|| text.to_owned());
    let deed = Deed::Contact {
        number: number.to_owned(),
        contact: Box::new(Contact {
            how: Some(how),
            told,
            reached,
            ..Contact::default()
        }),
    };
    people::by_somebody(app, deed)
}

/// Shows who waits, the longest waiting first.
fn show(app: &mut App) {
    if app.waiting.is_empty() {
        app.say("No pair that is ready waits without an appointment.");
        return;
    }
    let items = app
        .waiting
        .iter()
        .map(|w| {
            let mark = if w.uncollected { "! " } else { "  " };
            format!("{mark}{} {}: {}", w.number, w.wearer, w.words())
        })
        .collect();
    app.choose(
        "Ready and not collected, the longest waiting first; ! is longer than the practice waits. Enter records that the wearer was told.",
        items,
        Purpose::Waiting,
    );
}

/// Asks how the one that was chosen was told.
fn who(app: &mut App, index: usize) {
    if let Some(waits) = app.waiting.get(index) {
        let (number, wearer) = (waits.number.clone(), waits.wearer.clone());
        ask_of(app, number, &wearer);
    }
}
