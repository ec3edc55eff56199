//! The keys while something is asked.

use super::effect::Effect;
use super::help;
use super::key::Key;
use super::list::moved_by_key;
use super::palette;
use super::question::Dialog;
use super::questions::who;
use super::{App, Screen, act, offering};

/// Takes a key while something is asked.
pub(crate) fn key(app: &mut App, key: Key) -> Vec<Effect> {
    let Some(dialog) = app.dialog.take() else {
        return Vec::new();
    };
    if key.is("esc") {
        return left(app, dialog);
    }
    let stays = match dialog {
        Dialog::Help { top } => match moved_by_key(top, key, help::places(app)) {
            Some(top) => Dialog::Help { top },
            None => return Vec::new(),
        },
        Dialog::Palette {
            mut line,
            mut selected,
        } => {
            let found = palette::matching(app, line.text());
            if key.is("enter")
                && let Some(action) = found.get(selected)
            {
                return act::act(app, *action);
            }
            if let Some(to) = moved_by_key(selected, key, found.len()) {
                selected = to;
            } else if line.key(key) {
                selected = 0;
            }
            Dialog::Palette { line, selected }
        }
        Dialog::Text {
            title,
            mut line,
            mut error,
            asker,
        } => {
            if key.is("enter") {
                match asker.answered(app, line.text().trim()) {
                    Ok(effects) => return effects,
                    Err(why) => error = Some(why),
                }
            } else if asker
                .check()
                .is_some_and(|check| offering::other_reason(app, check, &mut line, key))
                || line.key(key)
            {
                error = None;
            }
            Dialog::Text {
                title,
                line,
                error,
                asker,
            }
        }
        Dialog::Secret {
            title,
            mut line,
            mut error,
            asker,
        } => {
            if key.is("enter") && line.count() > 0 {
                return asker.answered(app, line);
            }
            if line.key(key) {
                error = None;
            }
            Dialog::Secret {
                title,
                line,
                error,
                asker,
            }
        }
        Dialog::Choose {
            title,
            items,
            note,
            mut selected,
            mut typed,
            answers,
        } => {
            if key.is("enter") {
                return answers.choose(app, selected);
            }
            let to = moved_by_key(selected, key, items.len());
            if let Some(to) = to {
                selected = to;
                typed.clear();
            }
            let mut dialog = Dialog::Choose {
                title,
                items,
                note,
                selected,
                typed,
                answers,
            };
            if let (None, Some(c)) = (to, key.types()) {
                dialog.type_letter(c);
            }
            dialog
        }
    };
    app.dialog = Some(stays);
    Vec::new()
}

/// Leaves a question unanswered.
fn left(app: &mut App, dialog: Dialog) -> Vec<Effect> {
    let effects = match dialog {
        Dialog::Text { asker, .. } => asker.unanswered(app),
        Dialog::Choose { answers, .. } => answers.unanswered(app),
        Dialog::Secret { .. } | Dialog::Help { .. } | Dialog::Palette { .. } => {
            return Vec::new();
        }
    };
    // Without a book there is nothing behind a question but the welcome.
    if app.screen == Screen::Welcome && app.dialog.is_none() && !app.quit {
        who::welcome(app);
    }
    effects
}
