//! The line of hints: the keys that do something on the screen as it stands, and no others.
//!
//! A key that would only say why it does nothing is left out until it does something.

use crate::tui::action::{Action, Scope};
use crate::tui::key::Key;
use crate::tui::parcel::steps::{is_hidden, to_confirm};
use crate::tui::{App, Screen, parcel};

/// Returns the key and the word of each hint, what is needed most first.
pub(crate) fn hints(app: &App) -> Vec<(Key, &'static str)> {
    if let Some(state) = app.states.get(app.screen) {
        let hints = state.behaviour().hints(app.seen()).into_iter();
        return hints
            .filter_map(|action| Some((key_here(app, action)?, action.entry().title)))
            .collect();
    }
    named(app.scope())
        .iter()
        .filter(|action| works(app, **action))
        .filter_map(|action| Some((key_here(app, *action)?, action.entry().title)))
        .collect()
}

/// The first key of an action that is not typed as text at the moment.
pub(crate) fn key_here(app: &App, action: Action) -> Option<Key> {
    let scope = app.scope();
    let state = app.states.get(app.screen);
    let keys = app.keymap.keys_of(action).iter().copied();
    keys.filter(|k| !state.is_some_and(|s| s.behaviour().is_text(*k, app.seen())))
        .find(|k| app.keymap.action(scope, *k) == Some(action))
}

/// The actions that may be named on the screen in front, what is needed most first: a narrow window
/// leaves the last ones out.
#[allow(clippy::too_many_lines, reason = "one row for each hint")]
const fn named(scope: Scope) -> &'static [Action] {
    match scope {
        Scope::Everywhere => &[Action::QuitNow],
        Scope::Entry => &[
            Action::Commit,
            Action::NextMarked,
            Action::StepUp,
            Action::ClearText,
            Action::Restore,
            Action::Gate,
            Action::Help,
        ],
        Scope::Parcel => &[
            Action::TakeUp,
            Action::Yes,
            Action::No,
            Action::Verdict,
            Action::Move,
            Action::SendBack,
            Action::Help,
            Action::Back,
            Action::OpenGate,
            Action::OpenJob,
            Action::SwitchPerson,
        ],
        Scope::Worklist
        | Scope::Collections
        | Scope::Lookup
        | Scope::Gate
        | Scope::Job
        | Scope::Pictures
        | Scope::Choices
        | Scope::Workbench
        | Scope::Figures
        | Scope::Aloud
        | Scope::Visit => &[],
    }
}

/// Whether an action does more on the screen as it stands than say why it does nothing.
fn works(app: &App, action: Action) -> bool {
    match app.screen {
        Screen::Parcel => at_parcel(app, action),
        _ => true,
    }
}

fn at_parcel(app: &App, action: Action) -> bool {
    if let Some(edit) = app.parcel.editor.edit() {
        let hidden = parcel::in_hand(app).is_none_or(|job| is_hidden(job, &app.practice));
        return match action {
            Action::Commit => edit.error.is_none(),
            Action::Gate => edit.error.is_none() && !hidden,
            Action::ClearText => !edit.line.text().is_empty(),
            // The steps lead on by themselves, and a reading is no value to be stepped.
            other => !matches!(other, Action::NextMarked | Action::StepUp),
        };
    }
    let p = &app.parcel;
    let Some(job) = parcel::in_hand(app) else {
        return match action {
            Action::TakeUp => !p.number.text().trim().is_empty() || !p.lines.is_empty(),
            Action::OpenGate | Action::OpenJob => !p.lines.is_empty(),
            other => matches!(other, Action::Help | Action::Back | Action::SwitchPerson),
        };
    };
    let is_verdict = parcel::shows_verdict(app);
    let steps = parcel::steps_now(app);
    let is_tick = steps.get(p.row).is_some_and(|s| s.yes_no.is_some());
    match action {
        Action::TakeUp => !is_verdict && steps.get(p.row).is_some() && !is_tick,
        Action::Yes | Action::No if is_verdict => {
            parcel::asks(app, job) && to_confirm(job).is_some()
        }
        Action::Yes | Action::No => is_tick,
        Action::Verdict | Action::Move | Action::OpenGate | Action::OpenJob => {
            !is_hidden(job, &app.practice)
        }
        _ => true,
    }
}
