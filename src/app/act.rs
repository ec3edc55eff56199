//! What each action does.

use super::action::Action;
use super::effect::Effect;
use super::line::Line;
use super::list::moved;
use super::news::ScreenInput;
use super::question::Dialog;
use super::questions::begin_job;
use super::screen::Lookup;
use super::selected::{card_for, selected};
use super::{App, Screen, collecting, entry, gating, parcel, shell};

/// Does an action on the screen in front.
#[allow(clippy::too_many_lines, reason = "one arm for each action")]
pub(crate) fn act(app: &mut App, action: Action) -> Vec<Effect> {
    if let Some(effects) = parcel::act(app, action) {
        return effects;
    }
    if let Some(effects) = shell::update(app, ScreenInput::Action(action)) {
        return effects;
    }
    if let Some(effects) = shell::open(app, action) {
        return effects;
    }
    if let Some(effects) = shell::asked(app, action) {
        return effects;
    }
    match action {
        Action::QuitNow | Action::Quit => {
            app.quit = true;
            Vec::new()
        }
        Action::Suspend => vec![Effect::Suspend],
        Action::Help => {
            app.dialog = Some(Dialog::Help { top: 0 });
            Vec::new()
        }
        Action::Palette => {
            app.dialog = Some(Dialog::Palette {
                line: Line::default(),
                selected: 0,
            });
            Vec::new()
        }
        Action::Back => shell::back(app),
        Action::Lookup => {
            if app.screen == Screen::Welcome {
                return Vec::new();
            }
            // Somebody is on the telephone: the letters of the last search are not theirs.
            app.lookup = Lookup::default();
            app.go(Screen::Lookup);
            vec![Effect::Find(String::new())]
        }
        Action::Collections => {
            app.go(Screen::Collections);
            app.collections.begun = None;
            collecting::begin(app);
            card_for(app, collecting::line(app).map(|l| l.number.clone()))
        }
        Action::NewJobNamed => {
            let sought = app.lookup.line.text().trim();
            // A number or a day is nobody's name.
            let name = if sought.contains(char::is_alphabetic) {
                Line::of(sought)
            } else {
                Line::default()
            };
            shell::carry_out(app, begin_job::ask_wearer(name))
        }
        Action::Lock => super::lock::asked(app),
        Action::Open | Action::OpenJob => {
            selected(app).map_or_else(Vec::new, |l| vec![Effect::Open(l.number.clone())])
        }
        Action::OpenGate => {
            let Some(number) = selected(app).map(|l| l.number.clone()) else {
                app.complain("No job is selected.");
                return Vec::new();
            };
            app.job = None;
            app.go(Screen::Gate);
            vec![Effect::Open(number)]
        }
        Action::Down | Action::DownToo => step(app, 1),
        Action::Up | Action::UpToo => step(app, -1),
        Action::First => step(app, isize::MIN),
        Action::Last => step(app, isize::MAX),
        Action::GoToField
        | Action::Accept
        | Action::Move
        | Action::AskPrescriber
        | Action::Answer
        | Action::SendBack
        | Action::Cancel
        | Action::Recheck => gating::act(app, action),
        Action::Gate if app.screen == Screen::Lookup => act(app, Action::OpenGate),
        Action::Gate => gate(app),
        Action::Yes
        | Action::No
        | Action::Adjusted
        | Action::Value
        | Action::NextJob
        | Action::PreviousJob => collecting::act(app, action),
        Action::ClearText if app.screen == Screen::Lookup => {
            app.lookup.line = Line::default();
            vec![Effect::Find(String::new())]
        }
        Action::Retention => vec![Effect::Retention],
        Action::Tour => super::tour::begin(app),
        _ => entry::act(app, action),
    }
}

/// Keeps what is being typed and shows the gate; what cannot be kept stays in front, with the reason
/// beside it.
fn gate(app: &mut App) -> Vec<Effect> {
    let kept = match app.screen {
        Screen::Parcel => parcel::act(app, Action::Commit).unwrap_or_default(),
        _ => entry::act(app, Action::Commit),
    };
    let edit = match app.screen {
        Screen::Visit => None,
        _ => app.job.as_ref().and_then(|j| j.edit.as_ref()),
    };
    match edit.map(|e| e.error.is_some()) {
        None if app.screen == Screen::Parcel => parcel::gate(app, !kept.is_empty()),
        None => {
            gating::act(app, Action::Gate);
        }
        Some(true) => app.complain(app.keymap.sentence(
            "The gate is not shown yet: what is typed cannot be kept, and why stands with it. \
             Correct it, or {restore} drops it.",
        )),
        // First somebody says who they are.
        Some(false) => {}
    }
    kept
}

fn step(app: &mut App, by: isize) -> Vec<Effect> {
    match app.screen {
        Screen::Worklist => {
            app.worklist.selected = moved(app.worklist.selected, by, app.worklist.lines.len());
            card_for(app, app.worklist.line().map(|l| l.number.clone()))
        }
        Screen::Lookup => {
            app.lookup.selected = moved(app.lookup.selected, by, app.lookup.found.len());
            card_for(app, selected(app).map(|l| l.number.clone()))
        }
        Screen::Gate => {
            let count = app.job.as_ref().map_or(0, |j| j.findings.len());
            app.finding = moved(app.finding, by, count);
            Vec::new()
        }
        Screen::Collections => {
            app.collections.done = false;
            app.collections.step =
                moved(app.collections.step, by, collecting::steps_now(app).len());
            Vec::new()
        }
        Screen::Job => {
            entry::step_rows(app, by);
            Vec::new()
        }
        Screen::Parcel => {
            parcel::step(app, by);
            Vec::new()
        }
        _ => Vec::new(),
    }
}
