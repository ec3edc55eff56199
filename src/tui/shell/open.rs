//! How the screens are opened that every screen, or several, lead to.

use super::app::App;
use super::route::go;
use super::screens::ScreenState;
use super::selected::{in_front, on_worklist};
use crate::job::{Reason, Stage};
use crate::tui::action::Action;
use crate::tui::next::Next;
use crate::tui::questions::recheck;
use crate::tui::screen_name::Screen;
use crate::tui::screens::{lookup, read_aloud};

/// Opens the screen of an action; `None` where the action opens none.
pub(crate) fn open(app: &mut App, action: Action) -> Option<Next> {
    Some(match action {
        Action::Lookup if app.screen == Screen::Welcome => Next::Stay,
        // Somebody is on the telephone: the letters of the last search are not theirs.
        Action::Lookup => look_up(app, ""),
        Action::Figures => go(app, Screen::Figures),
        Action::Pictures if app.job.is_some() => go(app, Screen::Pictures),
        Action::Choices if app.job.is_some() => go(app, Screen::Choices),
        Action::Pictures | Action::Choices => Next::Stay,
        Action::Collections => collections(app),
        Action::Parcel => parcel(app),
        Action::ReadAloud => read_aloud(app),
        Action::Visit => visit(app),
        Action::Workbench => workbench(app),
        _ => return None,
    })
}

/// Opens the look-up with a text that is begun.
pub(crate) fn look_up(app: &mut App, text: &str) -> Next {
    app.states.put(ScreenState::Lookup(lookup::State::of(text)));
    go(app, Screen::Lookup)
}

/// Opens the collections of the day, with the pair that is selected on the worklist.
fn collections(app: &mut App) -> Next {
    app.go(Screen::Collections);
    let Some(ScreenState::Collections(mut state)) = app.states.take(Screen::Collections) else {
        return Next::Stay;
    };
    let next = state.open(on_worklist(app), app.seen());
    app.states.put(ScreenState::Collections(state));
    next
}

/// Begins a run through what came from the laboratory.
fn parcel(app: &mut App) -> Next {
    app.close_job();
    app.states.forget(Screen::Parcel);
    go(app, Screen::Parcel)
}

/// Opens the visit of a recheck; of a collected pair, offers to begin one.
fn visit(app: &mut App) -> Next {
    let Some(job) = &app.job else {
        return Next::Stay;
    };
    let stage = job.open.job.stage();
    if job.open.job.reason == Some(Reason::Recheck) {
        return go(app, Screen::Visit);
    }
    if stage == Stage::Collected {
        let number = job.open.number.clone();
        return recheck::ask(number);
    }
    app.complain(format!(
        "The job is {stage} and no recheck: a visit is about a collected pair."
    ));
    Next::Stay
}

/// Goes on to the visit, where a recheck was begun for it.
pub(crate) fn wanted_visit(app: &mut App) -> Next {
    let job = app.job.as_ref();
    let is_recheck = job.is_some_and(|j| j.open.job.reason == Some(Reason::Recheck));
    if app.wanted.take() == Some(Screen::Visit) && is_recheck {
        return go(app, Screen::Visit);
    }
    Next::Stay
}

/// Reads out the job that is open or selected.
fn read_aloud(app: &mut App) -> Next {
    let Some(open) = in_front(app) else {
        app.say("The job is still being read; press the key again.");
        return Next::Stay;
    };
    if let Some(until) = app.hides_order(open) {
        let text = format!("This pair is in hand at the parcel: its order is {until}.");
        app.complain(text);
        return Next::Stay;
    }
    let state = read_aloud::State::of(open, app.today);
    app.states.put(ScreenState::Aloud(state));
    go(app, Screen::Aloud)
}

/// Opens the workbench: with the values of the current job, or with examples.
fn workbench(app: &mut App) -> Next {
    if matches!(app.screen, Screen::Workbench | Screen::Welcome) {
        return Next::Stay;
    }
    let is_of_job = matches!(
        app.screen,
        Screen::Job | Screen::Gate | Screen::Pictures | Screen::Choices
    );
    let job = app.job.as_ref().filter(|_| is_of_job);
    let number = job.map(|j| j.open.number.clone());
    if let Some(ScreenState::Workbench(mut state)) = app.states.take(Screen::Workbench) {
        state.open(number, app.seen());
        app.states.put(ScreenState::Workbench(state));
    }
    go(app, Screen::Workbench)
}
