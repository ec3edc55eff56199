//! The keys while something is asked.

use std::ops::ControlFlow::{self, Break, Continue};

use super::app::App;
use super::palette;
use crate::tui::earlier_reasons;
use crate::tui::help;
use crate::tui::key::Key;
use crate::tui::line::Line;
use crate::tui::list::moved_by_key;
use crate::tui::next::Next;
use crate::tui::question::Dialog;

/// Takes a key while something is asked.
pub(super) fn key(app: &mut App, key: Key) -> Next {
    let Some(dialog) = app.dialog.take() else {
        return Next::Stay;
    };
    if key.is("esc") {
        return left(dialog);
    }
    let taken = match dialog {
        Dialog::Help { top } => {
            match moved_by_key(top, key, help::places(app.scope(), &app.keymap)) {
                Some(top) => Continue(Dialog::Help { top }),
                None => Break(Next::Stay),
            }
        }
        Dialog::Palette { line, selected } => key_of_palette(app, line, selected, key),
        Dialog::Text { .. } => key_of_text(app, dialog, key),
        Dialog::Secret { .. } => key_of_secret(dialog, key),
        Dialog::Choose { .. } => key_of_choice(dialog, key),
    };
    match taken {
        Continue(dialog) => {
            app.dialog = Some(dialog);
            Next::Stay
        }
        Break(next) => next,
    }
}

/// The question goes on, or it is over with what is to be done.
type Taken = ControlFlow<Next, Dialog>;

fn key_of_palette(app: &mut App, mut line: Line, mut selected: usize, key: Key) -> Taken {
    let found = palette::matching(app, line.text());
    if key.is("enter")
        && let Some(action) = found.get(selected)
    {
        return Break(Next::Run(*action));
    }
    if let Some(to) = moved_by_key(selected, key, found.len()) {
        selected = to;
    } else if line.key(key) {
        selected = 0;
    }
    Continue(Dialog::Palette { line, selected })
}

fn key_of_text(app: &App, mut dialog: Dialog, key: Key) -> Taken {
    let Dialog::Text {
        line,
        error,
        answered,
        check,
        ..
    } = &mut dialog
    else {
        return Continue(dialog);
    };
    if key.is("enter") {
        match answered.take(line.text().trim(), app.seen()) {
            Ok(next) => return Break(next),
            Err(why) => *error = Some(why),
        }
        return Continue(dialog);
    }
    let is_earlier =
        check.is_some_and(|check| earlier_reasons::chosen_by_key(app, check, line, key));
    if is_earlier || line.key(key) {
        *error = None;
    }
    Continue(dialog)
}

fn key_of_secret(mut dialog: Dialog, key: Key) -> Taken {
    match &mut dialog {
        Dialog::Secret { line, .. } if key.is("enter") && line.count() > 0 => {}
        Dialog::Secret { line, error, .. } => {
            if line.key(key) {
                *error = None;
            }
            return Continue(dialog);
        }
        _ => return Continue(dialog),
    }
    match dialog {
        Dialog::Secret { line, answered, .. } => Break(answered.take(line)),
        other => Continue(other),
    }
}

fn key_of_choice(mut dialog: Dialog, key: Key) -> Taken {
    if key.is("enter") {
        return match dialog {
            Dialog::Choose {
                selected, answers, ..
            } => Break(answers.into_iter().nth(selected).unwrap_or(Next::Stay)),
            other => Continue(other),
        };
    }
    if let Dialog::Choose {
        items,
        selected,
        typed,
        ..
    } = &mut dialog
        && let Some(to) = moved_by_key(*selected, key, items.len())
    {
        *selected = to;
        typed.clear();
    } else if let Some(c) = key.types() {
        dialog.type_letter(c);
    }
    Continue(dialog)
}

/// Leaves a question unanswered.
fn left(dialog: Dialog) -> Next {
    let next = match dialog {
        Dialog::Text { without, .. } | Dialog::Choose { without, .. } => without.next,
        Dialog::Secret { .. } | Dialog::Help { .. } | Dialog::Palette { .. } => None,
    };
    next.map_or(Next::Stay, |next| *next)
}
