//! The job that is selected on the current screen, and its card.

use crate::book::desk::{JobLine, OpenJob};
use crate::tui::effect::Effect;
use crate::tui::{App, Screen};

/// Asks for the card of a job, or shows none.
pub(crate) fn card_for(app: &mut App, number: Option<String>) -> Vec<Effect> {
    if let Some(number) = number {
        return vec![Effect::Card(number)];
    }
    app.card = None;
    Vec::new()
}

/// Returns the number of the job that is selected on the current screen.
pub(crate) fn selected(app: &App) -> Option<&str> {
    let state = app.states.get(app.screen)?;
    state.behaviour().selected(app.seen())
}

/// Returns the job that is open, or the one that is selected once it is read.
pub(crate) fn in_front(app: &App) -> Option<&OpenJob> {
    if app.screen == Screen::Job {
        return app.job.as_ref().map(|j| &j.open);
    }
    let number = selected(app)?;
    app.card.as_deref().filter(|c| c.number == number)
}

/// Returns the line that is selected on the worklist.
pub(crate) fn on_worklist(app: &App) -> Option<&JobLine> {
    app.states.worklist()?.line(&app.lines)
}
