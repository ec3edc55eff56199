//! Inputs to the current screen, news to those on the stack.

use super::app::App;
use crate::tui::news::{News, ScreenInput};
use crate::tui::next::Next;
use crate::tui::screen_name::Screen;

/// Gives an input to the current screen; `None` where it is none of its own.
pub(super) fn give(app: &mut App, input: ScreenInput<'_>) -> Option<Next> {
    let mut state = app.states.take(app.screen)?;
    let next = state.behaviour_mut().update(input, app.seen());
    app.states.put(state);
    (!matches!(next, Next::Pass)).then_some(next)
}

/// Gives the number of a scanned tray to the current screen.
pub(super) fn scanned_here(app: &mut App, number: &str) -> Next {
    let Some(mut state) = app.states.take(app.screen) else {
        return Next::Pass;
    };
    let next = state.behaviour_mut().scanned(number, app.seen());
    app.states.put(state);
    next
}

/// Gives news to the current screen.
pub(crate) fn news_here(app: &mut App, news: News<'_>) -> Next {
    tell(app, app.screen, news)
}

/// Gives news to one screen, on the stack or not.
pub(crate) fn tell(app: &mut App, screen: Screen, news: News<'_>) -> Next {
    let Some(mut state) = app.states.take(screen) else {
        return Next::Stay;
    };
    let next = state.behaviour_mut().notice(news, app.seen());
    app.states.put(state);
    next
}

/// Makes a screen the current one and keeps the way back.
pub(crate) fn go(app: &mut App, screen: Screen) -> Next {
    app.go(screen);
    news_here(app, News::Entered)
}
