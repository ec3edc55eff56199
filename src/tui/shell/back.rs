//! Back to the screen before.

use super::news_here;
use crate::tui::App;
use crate::tui::action::Action;
use crate::tui::effect::Effect;
use crate::tui::news::News;
use crate::tui::which::Screen;

/// Goes back to the screen before; the worklist is the first.
pub(crate) fn back(app: &mut App) -> Vec<Effect> {
    let Some(before) = app.trail.pop() else {
        if app.screen == Screen::Worklist {
            let key = app.keymap.shown(Action::Quit).unwrap_or_default();
            app.say(format!(
                "This is the first screen; {key} leaves the program."
            ));
        } else if app.screen != Screen::Welcome {
            app.begin(Screen::Worklist);
        }
        return Vec::new();
    };
    app.screen = before;
    news_here(app, News::Returned)
}
