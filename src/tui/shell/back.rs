//! Back to the screen before.

use super::app::App;
use super::route::news_here;
use crate::tui::action::Action;
use crate::tui::news::News;
use crate::tui::next::Next;
use crate::tui::screen_name::Screen;

/// Goes back to the screen before; the worklist is the first.
pub(crate) fn back(app: &mut App) -> Next {
    let Some(before) = app.trail.pop() else {
        if app.screen == Screen::Worklist {
            let key = app.keymap.shown(Action::Quit).unwrap_or_default();
            app.say(format!(
                "This is the first screen; {key} leaves the program."
            ));
        } else if app.screen != Screen::Welcome {
            app.begin(Screen::Worklist);
        }
        return Next::Stay;
    };
    app.screen = before;
    news_here(app, News::Returned)
}
