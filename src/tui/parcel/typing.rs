//! A reading while it is typed.

use crate::tui::App;
use crate::tui::effect::Effect;
use crate::tui::key::Key;

/// Takes a key into the entry being typed.
pub(crate) fn typed_on(app: &mut App, key: Key) -> Vec<Effect> {
    if app.parcel.editor.key(key) {
        return draft(app);
    }
    let keys = app.kept_or_dropped();
    app.say(format!(
        "{key} does nothing while something is typed: {keys}."
    ));
    Vec::new()
}

/// Takes pasted text into the entry being typed.
pub(crate) fn pasted_on(app: &mut App, text: &str) -> Vec<Effect> {
    app.parcel.editor.paste(text);
    draft(app)
}

/// Keeps what is being typed where a crash cannot take it.
pub(super) fn draft(app: &App) -> Vec<Effect> {
    let number = app.job.as_ref().map(|j| j.open.number.as_str());
    let draft = number.and_then(|number| app.parcel.editor.draft(number));
    draft.into_iter().collect()
}
