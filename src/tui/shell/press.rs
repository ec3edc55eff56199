//! A key or pasted text on the current screen, once no question and no lock takes it.

use super::app::App;
use super::dispatch::dispatch;
use super::route::give;
use crate::tui::action::Action;
use crate::tui::key::Key;
use crate::tui::news::ScreenInput;
use crate::tui::next::Next;

/// Takes a key: as text of the screen, as the key of an action, or as what the screen makes of it.
pub(crate) fn press(app: &mut App, key: Key) -> Next {
    let state = app.states.get(app.screen);
    let is_text = state.is_some_and(|s| s.behaviour().is_text(key, app.seen()));
    let action = app.keymap.action(app.scope(), key).filter(|_| !is_text);
    if let Some(action) = action {
        return dispatch(app, action);
    }
    if state.is_none() {
        // Without a book there is only the question what to begin.
        return Next::Stay;
    }
    give(app, ScreenInput::Key(key)).unwrap_or_else(|| does_nothing(app, key))
}

/// Takes pasted text; a screen without a place for it takes none.
pub(crate) fn paste(app: &mut App, text: &str) -> Next {
    give(app, ScreenInput::Paste(text)).unwrap_or(Next::Stay)
}

/// A key that does nothing and says nothing is pressed again.
fn does_nothing(app: &App, key: Key) -> Next {
    let help = app.keymap.shown(Action::Help).unwrap_or_default();
    let find = app.keymap.shown(Action::Lookup).unwrap_or_default();
    Next::say(format!(
        "{key} does nothing here. {help} shows the keys, {find} finds a job."
    ))
}
