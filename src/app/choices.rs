//! Materials and base curves of a job side by side.

use super::action::Action;
use super::effect::Effect;
use super::{App, Screen};

/// The table.
#[derive(Debug, Default)]
pub struct Choices {
    /// The selected row.
    pub selected: usize,
}

/// Does an action of the table.
pub(crate) fn act(app: &mut App, action: Action) -> Vec<Effect> {
    if action == Action::Choices && app.job.is_some() {
        app.go(Screen::Choices);
    }
    Vec::new()
}

/// Goes up or down.
pub(crate) fn step(app: &mut App, by: isize) -> Vec<Effect> {
    app.choices.selected = super::act::moved(app.choices.selected, by, 1);
    Vec::new()
}
