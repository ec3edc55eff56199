//! How the screens are opened that every screen, or several, lead to.

use super::go;
use super::screens::ScreenState;
use crate::app::App;
use crate::app::action::Action;
use crate::app::effect::Effect;
use crate::app::parcel::card_hides;
use crate::app::questions::begin_job;
use crate::app::screens::{lookup, read_aloud};
use crate::app::which::Screen;

/// Opens the screen of an action; `None` where the action opens none.
pub(crate) fn open(app: &mut App, action: Action) -> Option<Vec<Effect>> {
    Some(match action {
        Action::Lookup if app.screen == Screen::Welcome => Vec::new(),
        // Somebody is on the telephone: the letters of the last search are not theirs.
        Action::Lookup => look_up(app, ""),
        Action::Figures => go(app, Screen::Figures),
        Action::Pictures if app.job.is_some() => go(app, Screen::Pictures),
        Action::Pictures => Vec::new(),
        Action::ReadAloud => read_aloud(app),
        _ => return None,
    })
}

/// Opens the look-up with a text that is begun.
pub(crate) fn look_up(app: &mut App, text: &str) -> Vec<Effect> {
    app.states.put(ScreenState::Lookup(lookup::State::of(text)));
    go(app, Screen::Lookup)
}

/// Reads out the job that is open or selected.
fn read_aloud(app: &mut App) -> Vec<Effect> {
    let Some(open) = begin_job::in_front(app) else {
        app.say("The job is still being read; press the key again.");
        return Vec::new();
    };
    if let Some(until) = card_hides(app, &open.number, &open.job) {
        let text = format!("This pair is in hand at the parcel: its order is {until}.");
        app.complain(text);
        return Vec::new();
    }
    let state = read_aloud::State::of(open, app.today);
    app.states.put(ScreenState::Aloud(state));
    go(app, Screen::Aloud)
}
