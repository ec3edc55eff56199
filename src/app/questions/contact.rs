//! Telling the wearer: who waits, and what was said to whom and how.

use crate::app::App;
use crate::app::action::Action;
use crate::app::effect::{Deed, Effect};
use crate::app::line::Line;
use crate::app::question::{ChoiceAsker, TextAsker};
use crate::app::selected::selected;
use crate::desk::Waiting;
use crate::job::{Contact, ContactBy};

/// A way of telling a wearer.
#[derive(Debug, Clone, Copy)]
struct Way {
    words: &'static str,
    how: ContactBy,
    /// Whether it reached the wearer; None where that is not known.
    reached: Option<bool>,
    /// Whether the usual sentence is put in beforehand.
    says_ready: bool,
}

const fn way(words: &'static str, how: ContactBy, reached: Option<bool>, says_ready: bool) -> Way {
    Way {
        words,
        how,
        reached,
        says_ready,
    }
}

/// The ways, in the order in which they are asked.
const WAYS: [Way; 7] = [
    way(
        "spoken to on the telephone",
        ContactBy::Telephone,
        Some(true),
        true,
    ),
    way(
        "telephone tried, not reached",
        ContactBy::Telephone,
        Some(false),
        false,
    ),
    way(
        "message left on the telephone",
        ContactBy::Voicemail,
        None,
        true,
    ),
    way("short message", ContactBy::Message, None, true),
    way("e-mail", ContactBy::Email, None, true),
    way("letter", ContactBy::Letter, None, true),
    way("in person", ContactBy::InPerson, Some(true), true),
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
    let lines = || app.lines.iter().chain(&app.collections.lines);
    let line = selected(app).and_then(|number| lines().find(|l| l.number == number));
    let Some(line) = line else {
        app.complain("No job is selected: nobody to be told.");
        return;
    };
    let (number, wearer) = (line.number.clone(), line.wearer.clone());
    let phone = app
        .waiting
        .iter()
        .find(|w| w.number == number)
        .and_then(|w| w.phone.clone())
        .or_else(|| {
            let card = app.card.as_ref().filter(|c| c.number == number)?;
            card.job.wearer.phone.clone()
        });
    ask_of(app, number, &wearer, phone);
}

fn ask_of(app: &mut App, number: String, wearer: &str, phone: Option<String>) {
    let phone = phone.map_or_else(String::new, |p| format!(", telephone {p}"));
    let offered = WAYS.iter().map(|w| (w.words.to_owned(), *w)).collect();
    app.choose(
        format!("{number} {wearer}{phone}: how was the wearer told?"),
        offered,
        How { number },
    );
}

/// How the wearer of a job was told.
#[derive(Debug)]
struct How {
    number: String,
}

impl ChoiceAsker for How {
    type Answer = Way;

    fn answered(self, app: &mut App, way: Way) -> Vec<Effect> {
        let line = if way.says_ready {
            Line::of(READY)
        } else {
            Line::default()
        };
        app.ask_with(
            format!("{}: what was said or left?", way.words),
            line,
            WhatWasSaid {
                number: self.number,
                way,
            },
        );
        Vec::new()
    }
}

/// What the wearer of a job was told.
#[derive(Debug)]
struct WhatWasSaid {
    number: String,
    way: Way,
}

impl TextAsker for WhatWasSaid {
    fn answered(&self, _app: &mut App, text: &str) -> Result<Vec<Effect>, String> {
        let deed = Deed::Contact {
            number: self.number.clone(),
            contact: Box::new(Contact {
                how: Some(self.way.how),
                told: (!text.is_empty()).then(|| text.to_owned()),
                reached: self.way.reached,
                ..Contact::default()
            }),
        };
        Ok(vec![Effect::Act(deed)])
    }
}

/// Shows who waits, the longest waiting first.
fn show(app: &mut App) {
    if app.waiting.is_empty() {
        app.say("No pair that is ready waits without an appointment.");
        return;
    }
    let offered = app
        .waiting
        .iter()
        .map(|w| {
            let mark = if w.uncollected { "! " } else { "  " };
            let label = format!("{mark}{} {}: {}", w.number, w.wearer, w.words());
            (label, w.clone())
        })
        .collect();
    app.choose(
        "Ready and not collected, the longest waiting first; ! is longer than the practice waits. Enter records that the wearer was told.",
        offered,
        WhoWaits,
    );
}

/// Which of the wearers who wait was told.
#[derive(Debug)]
struct WhoWaits;

impl ChoiceAsker for WhoWaits {
    type Answer = Waiting;

    fn answered(self, app: &mut App, waits: Waiting) -> Vec<Effect> {
        ask_of(app, waits.number, &waits.wearer, waits.phone);
        Vec::new()
    }
}
