//! What each action does.

use super::{lock, tour};
use crate::tui::action::Action;
use crate::tui::effect::Effect;
use crate::tui::line::Line;
use crate::tui::news::ScreenInput;
use crate::tui::question::Dialog;
use crate::tui::shell::selected::selected;
use crate::tui::{App, Screen, parcel, shell};

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
        Action::Lock => lock::asked(app),
        Action::Open | Action::OpenJob => {
            selected(app).map_or_else(Vec::new, |number| vec![Effect::Open(number.to_owned())])
        }
        Action::OpenGate => {
            let Some(number) = selected(app).map(str::to_owned) else {
                app.complain("No job is selected.");
                return Vec::new();
            };
            app.close_job();
            let mut effects = shell::go(app, Screen::Gate);
            effects.push(Effect::Open(number));
            effects
        }
        Action::Down | Action::DownToo => step(app, 1),
        Action::Up | Action::UpToo => step(app, -1),
        Action::First => step(app, isize::MIN),
        Action::Last => step(app, isize::MAX),
        Action::Gate => gate(app),
        Action::Retention => vec![Effect::Retention],
        Action::Tour => tour::begin(app),
        Action::Undo => shell::undo(app),
        _ => Vec::new(),
    }
}

/// Keeps what is being typed and shows the gate; what cannot be kept stays in front, with the reason
/// beside it.
fn gate(app: &mut App) -> Vec<Effect> {
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
                return [kept, shell::go(app, Screen::Gate)].concat();
            }
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
        Screen::Parcel => {
            parcel::step(app, by);
            Vec::new()
        }
        _ => Vec::new(),
    }
}
