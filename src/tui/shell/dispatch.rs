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
use crate::tui::question::Dialog;
use crate::tui::screen_name::Screen;

/// Does an action on the current screen; returns what it leads to, which is not carried out yet.
#[allow(clippy::too_many_lines, reason = "one arm for each action")]
pub(super) fn dispatch(app: &mut App, action: Action) -> Next {
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
            let open = Effect::Open(number.to_owned());
            // Whose record somebody looked for is kept, where people sign in.
            let is_found = app.screen == Screen::Lookup && app.security.sign_in;
            let found = is_found.then(|| Effect::NoteFound(number.to_owned()));
            Next::Do(found.into_iter().chain([open]).collect())
        }),
        Action::OpenGate => {
            let Some(number) = selected(app).map(str::to_owned) else {
                return Next::complain("No job is selected.");
            };
            app.close_job();
            Next::Go(Screen::Gate).and(Next::Do(vec![Effect::Open(number)]))
        }
        Action::Gate if app.job.is_some() => Next::Go(Screen::Gate),
        Action::Retention => Next::Do(vec![Effect::Retention]),
        Action::Tour => tour::begin(app),
        Action::Undo => undo(app),
        _ => Next::Stay,
    }
}
