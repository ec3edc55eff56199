//! Inputs to the current screen, news to those on the stack.

use super::carry_out::carry_out;
use crate::tui::App;
use crate::tui::effect::Effect;
use crate::tui::news::{News, ScreenInput};
use crate::tui::next::Next;
use crate::tui::which::Screen;

/// Whether the current screen answers for itself.
// Until every screen does.
pub(crate) fn is_of_screens(app: &App) -> bool {
    app.states.get(app.screen).is_some()
}

/// Gives an input to the current screen; `None` where it is none of its own.
pub(crate) fn update(app: &mut App, input: ScreenInput<'_>) -> Option<Vec<Effect>> {
    let mut state = app.states.take(app.screen)?;
    let next = state.behaviour_mut().update(input, app.seen());
    app.states.put(state);
    if matches!(next, Next::Pass) {
        return None;
    }
    Some(carry_out(app, next))
}

/// Gives news to every screen on the stack, the current one last.
pub(crate) fn news(app: &mut App, news: News<'_>) -> Vec<Effect> {
    let stack: Vec<Screen> = app.trail.iter().copied().chain([app.screen]).collect();
    stack
        .into_iter()
        .flat_map(|screen| tell(app, screen, news))
        .collect()
}

/// Gives news to the current screen.
pub(crate) fn news_here(app: &mut App, news: News<'_>) -> Vec<Effect> {
    tell(app, app.screen, news)
}

/// Gives news to one screen, on the stack or not.
pub(crate) fn tell(app: &mut App, screen: Screen, news: News<'_>) -> Vec<Effect> {
    let Some(mut state) = app.states.take(screen) else {
        return Vec::new();
    };
    let next = state.behaviour_mut().notice(news, app.seen());
    app.states.put(state);
    carry_out(app, next)
}

/// Makes a screen the current one and keeps the way back.
pub(crate) fn go(app: &mut App, screen: Screen) -> Vec<Effect> {
    app.go(screen);
    news_here(app, News::Entered)
}
