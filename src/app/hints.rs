//! The line of hints: the keys that do something on the screen as it stands, and no others.
//!
//! A key that would only say why it does nothing is left out until it does something.

use super::action::{Action, Scope};
use super::key::Key;
use super::parcel::steps::{is_hidden, to_confirm};
use super::questions::begin_job;
use super::{App, Screen, collecting, entry, gating, onward, parcel, selected};
use crate::form;
use crate::job::Stage;

/// Returns the key and the word of each hint, what is needed most first.
pub fn hints(app: &App) -> Vec<(Key, &'static str)> {
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
    keys.filter(|k| !collecting::begins_words(app, *k))
        .filter(|k| !state.is_some_and(|s| s.behaviour().is_text(*k, app.seen())))
        .find(|k| app.keymap.action(scope, *k) == Some(action))
}

/// The actions that may be named on the screen in front, what is needed most first: a narrow window
/// leaves the last ones out.
#[allow(clippy::too_many_lines, reason = "one row for each hint")]
const fn named(scope: Scope) -> &'static [Action] {
    match scope {
        Scope::Everywhere => &[Action::QuitNow],
        Scope::Worklist => &[
            Action::Open,
            Action::NewJob,
            Action::Lookup,
            Action::Collections,
            Action::Parcel,
            Action::Help,
            Action::Quit,
            Action::OpenGate,
            Action::Told,
        ],
        Scope::Job => &[
            Action::EditField,
            Action::NextMarked,
            Action::NextSection,
            Action::Undo,
            Action::Gate,
            Action::Help,
            Action::Back,
            Action::CopyOther,
        ],
        Scope::Entry => &[
            Action::Commit,
            Action::NextMarked,
            Action::StepUp,
            Action::ClearText,
            Action::Restore,
            Action::Gate,
            Action::Help,
        ],
        Scope::Gate => &[
            Action::Answer,
            Action::GoToField,
            Action::Accept,
            Action::Move,
            Action::SendBack,
            Action::Recheck,
            Action::Visit,
            Action::Help,
            Action::Back,
            Action::AskPrescriber,
            Action::Cancel,
        ],
        Scope::Lookup => &[
            Action::Open,
            Action::NewFrom,
            Action::Repair,
            Action::ReadAloud,
            Action::NewJobNamed,
            Action::Back,
            Action::Help,
            Action::Gate,
            Action::ClearText,
        ],
        Scope::Collections => &[
            Action::Yes,
            Action::No,
            Action::Value,
            Action::Adjusted,
            Action::OpenGate,
            Action::Told,
            Action::Help,
            Action::Back,
            Action::NextJob,
            Action::OpenJob,
            Action::Waiting,
            Action::SwitchPerson,
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
        Scope::Pictures
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
        Screen::Worklist => match action {
            Action::Open | Action::OpenGate | Action::Told => app.worklist.line().is_some(),
            _ => true,
        },
        Screen::Lookup => looked_up(app, action),
        Screen::Job => of_job(app, action),
        Screen::Gate => at_gate(app, action),
        Screen::Collections => at_collections(app, action),
        Screen::Parcel => at_parcel(app, action),
        _ => true,
    }
}

fn looked_up(app: &App, action: Action) -> bool {
    let open = selected::in_front(app);
    match action {
        Action::Open | Action::Gate => selected::selected(app).is_some(),
        // Who is found is not begun anew.
        Action::NewJobNamed => app.lookup.found.is_empty() && !app.lookup.line.text().is_empty(),
        Action::NewFrom => open.is_some_and(|o| begin_job::kinds(o).next().is_some()),
        Action::Repair => open.is_some_and(|o| o.job.stage() == Stage::Collected),
        Action::ReadAloud => open.is_some(),
        Action::ClearText => !app.lookup.line.text().is_empty(),
        _ => true,
    }
}

fn of_job(app: &App, action: Action) -> bool {
    let Some(job) = &app.job else {
        return matches!(action, Action::Help | Action::Back);
    };
    let field = entry::field(job);
    if let Some(edit) = &job.edit {
        let text = edit.line.text();
        return match action {
            // What was refused is refused again until something else is typed.
            Action::Commit | Action::NextMarked | Action::Gate => edit.error.is_none(),
            Action::StepUp => field.is_some_and(|f| form::step(f, text, true).is_some()),
            Action::ClearText => !text.is_empty(),
            _ => true,
        };
    }
    match action {
        Action::EditField => field.is_some(),
        Action::NextMarked => onward::has_next(app),
        Action::Undo => !job.undo.is_empty(),
        Action::CopyOther => field
            .and_then(form::copy_from_other_eye)
            .is_some_and(|other| other.value(&job.open.job).is_some()),
        _ => true,
    }
}

fn at_gate(app: &App, action: Action) -> bool {
    let Some(job) = &app.job else {
        return matches!(action, Action::Help | Action::Back);
    };
    let finding = job.findings.get(app.finding);
    let stage = job.open.job.stage();
    match action {
        Action::GoToField => finding
            .is_some_and(|f| f.field.starts_with("visit.") || entry::place_of(&f.field).is_some()),
        Action::Accept => finding.is_some_and(gating::can_accept),
        Action::Move => stage.next_gate().is_some(),
        Action::AskPrescriber => stage.is_open() && job.open.question.is_none(),
        Action::Answer => job.open.question.is_some(),
        Action::SendBack => stage.can_send_back(),
        Action::Recheck => stage == Stage::Collected,
        Action::Cancel => stage.is_open(),
        Action::Visit => job.has_visit(),
        _ => true,
    }
}

fn at_collections(app: &App, action: Action) -> bool {
    let Some(card) = app
        .card
        .as_ref()
        .filter(|_| collecting::line(app).is_some())
    else {
        return match action {
            Action::Waiting => !app.waiting.is_empty(),
            other => matches!(other, Action::Help | Action::Back | Action::SwitchPerson),
        };
    };
    let steps = collecting::steps_now(app);
    let Some(step) = steps.get(app.collections.step) else {
        return false;
    };
    match action {
        Action::Yes => step.is_yes_no() || collecting::agreed(app, step, &card.job).is_ok(),
        Action::No => step.is_yes_no(),
        Action::Value => !step.is_yes_no(),
        Action::Adjusted => collecting::can_adjust(step, &card.job),
        Action::NextJob => app.collections.lines.len() > 1,
        Action::Waiting => !app.waiting.is_empty(),
        _ => true,
    }
}

fn at_parcel(app: &App, action: Action) -> bool {
    if let Some(edit) = app.job.as_ref().and_then(|j| j.edit.as_ref()) {
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
