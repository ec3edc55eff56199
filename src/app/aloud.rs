//! A job line by line in words, to be read out on the telephone or heard.

use super::act::moved;
use super::action::Action;
use super::effect::Effect;
use super::parcel::card_hides;
use super::questions::begin_job;
use super::{App, Screen};
use crate::card::read_aloud;

/// The job that is read out.
#[derive(Debug, Default)]
pub struct Aloud {
    /// Its lines.
    pub lines: Vec<String>,
    /// The line that is read now.
    pub line: usize,
}

/// What the terminal does with what is copied.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Clipboard {
    /// It is not known to refuse it.
    Taken,
    /// It is known to take nothing.
    Refused,
}

/// Does an action of the view.
pub(crate) fn act(app: &mut App, action: Action) -> Vec<Effect> {
    if action == Action::CopyCard {
        return copy(app);
    }
    let Some(open) = begin_job::in_front(app) else {
        app.say("The job is still being read; press the key again.");
        return Vec::new();
    };
    if let Some(until) = card_hides(app, &open.number, &open.job) {
        let text = format!("This pair is in hand at the parcel: its order is {until}.");
        app.complain(text);
        return Vec::new();
    }
    app.aloud = Aloud {
        lines: read_aloud(&open.job, &open.number, app.today),
        line: 0,
    };
    app.go(Screen::Aloud);
    Vec::new()
}

/// Goes from line to line.
pub(crate) fn step(app: &mut App, by: isize) -> Vec<Effect> {
    app.aloud.line = moved(app.aloud.line, by, app.aloud.lines.len());
    Vec::new()
}

fn copy(app: &mut App) -> Vec<Effect> {
    if app.clipboard == Clipboard::Refused {
        app.complain(
            "Nothing copied: this terminal takes nothing onto its clipboard. rimbook show NUMBER --aloud prints the lines.",
        );
        return Vec::new();
    }
    // No terminal answers, so the sentence says how to find out.
    app.say("Copied to the terminal's clipboard; paste it to see that the terminal took it.");
    vec![Effect::Copy(app.aloud.lines.join("\n"))]
}
