//! The line of hints: the keys that do something on the screen in its current state, and no others.
//!
//! A key that would only say why it does nothing is left out until it does something.

use crate::tui::App;
use crate::tui::action::Action;
use crate::tui::key::Key;

/// Returns the key and the word of each hint, what is needed most first.
pub(crate) fn hints(app: &App) -> Vec<(Key, &'static str)> {
    let state = app.states.get(app.screen);
    let actions = state.map_or_else(
        || vec![Action::QuitNow],
        |state| state.behaviour().hints(app.seen()),
    );
    let named = actions.into_iter();
    named
        .filter_map(|action| Some((key_here(app, action)?, action.entry().title)))
        .collect()
}

/// The first key of an action that is not typed as text at the moment.
pub(crate) fn key_here(app: &App, action: Action) -> Option<Key> {
    let scope = app.scope();
    let state = app.states.get(app.screen);
    let keys = app.keymap.keys_of(action).iter().copied();
    keys.filter(|k| !state.is_some_and(|s| s.behaviour().is_text(*k, app.seen())))
        .find(|k| app.keymap.action(scope, *k) == Some(action))
}
