//! What each action does.

use super::app::App;
use super::back::back;
use super::open::open;
use super::questions::asked;
use super::route::give;
use super::selected::selected;
use super::undo::undo;
use super::{lock, tour};
use crate::tui::action::Action;
use crate::tui::effect::Effect;
use crate::tui::line::Line;
use crate::tui::news::ScreenInput;
use crate::tui::next::Next;
use crate::tui::parcel;
use crate::tui::question::Dialog;
use crate::tui::screen_name::Screen;

/// Does an action on the current screen; returns what it leads to, which is not carried out yet.
#[allow(clippy::too_many_lines, reason = "one arm for each action")]
pub(super) fn dispatch(app: &mut App, action: Action) -> Next {
    if let Some(effects) = parcel::act(app, action) {
        return Next::Do(effects);
    }
    if let Some(next) = give(app, ScreenInput::Action(action)) {
        return next;
    }
    if let Some(next) = open(app, action).or_else(|| asked(app, action)) {
        return next;
    }
    match action {
        Action::QuitNow | Action::Quit => {
            app.quit = true;
            Next::Stay
        }
        Action::Suspend => Next::Do(vec![Effect::Suspend]),
        Action::Help => {
            app.dialog = Some(Dialog::Help { top: 0 });
            Next::Stay
        }
        Action::Palette => {
            app.dialog = Some(Dialog::Palette {
                line: Line::default(),
                selected: 0,
            });
            Next::Stay
        }
        Action::Back => back(app),
        Action::Lock => lock::asked(app),
        Action::Open | Action::OpenJob => selected(app).map_or(Next::Stay, |number| {
            Next::Do(vec![Effect::Open(number.to_owned())])
        }),
        Action::OpenGate => {
            let Some(number) = selected(app).map(str::to_owned) else {
                return Next::complain("No job is selected.");
            };
            app.close_job();
            Next::Go(Screen::Gate).and(Next::Do(vec![Effect::Open(number)]))
        }
        Action::Down | Action::DownToo => step(app, 1),
        Action::Up | Action::UpToo => step(app, -1),
        Action::First => step(app, isize::MIN),
        Action::Last => step(app, isize::MAX),
        Action::Gate => gate(app),
        Action::Retention => Next::Do(vec![Effect::Retention]),
        Action::Tour => tour::begin(app),
        Action::Undo => undo(app),
        _ => Next::Stay,
    }
}

/// Keeps what is being typed and shows the gate; what cannot be kept stays in front, with the reason
/// beside it.
fn gate(app: &mut App) -> Next {
    let kept = match app.screen {
        Screen::Parcel => parcel::act(app, Action::Commit).unwrap_or_default(),
        _ => Vec::new(),
    };
    let edit = match app.screen {
        Screen::Parcel => app.parcel.editor.edit(),
        _ => None,
    };
    match edit.map(|e| e.error.is_some()) {
        None if app.screen == Screen::Parcel => parcel::gate(app, !kept.is_empty()),
        None => {
            if app.job.is_some() {
                return Next::Do(kept).and(Next::Go(Screen::Gate));
            }
        }
        Some(true) => app.complain(app.keymap.sentence(
            "The gate is not shown yet: what is typed cannot be kept, and why stands with it. \
             Correct it, or {restore} drops it.",
        )),
        // First somebody says who they are.
        Some(false) => {}
    }
    Next::Do(kept)
}

fn step(app: &mut App, by: isize) -> Next {
    match app.screen {
        Screen::Parcel => {
            parcel::step(app, by);
            Next::Stay
        }
        _ => Next::Stay,
    }
}
