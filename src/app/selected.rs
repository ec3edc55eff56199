//! The job that is selected on the current screen, and its card.

use super::effect::Effect;
use super::{App, Screen, collecting};
use crate::desk::{JobLine, OpenJob};

/// Asks for the card of a job, or shows none.
pub(crate) fn card_for(app: &mut App, number: Option<String>) -> Vec<Effect> {
    if let Some(number) = number {
        return vec![Effect::Card(number)];
    }
    app.card = None;
    Vec::new()
}

/// Returns the line that is selected on the screen in front.
pub(crate) fn selected(app: &App) -> Option<&JobLine> {
    match app.screen {
        Screen::Worklist => app.worklist.line(),
        Screen::Lookup => app.lookup.found.get(app.lookup.selected),
        Screen::Collections => collecting::line(app),
        _ => None,
    }
}

/// Returns the job that is open, or the one that is selected once it is read.
pub(crate) fn in_front(app: &App) -> Option<&OpenJob> {
    if app.screen == Screen::Job {
        return app.job.as_ref().map(|j| &j.open);
    }
    let number = &selected(app)?.number;
    app.card.as_deref().filter(|c| c.number == *number)
}
