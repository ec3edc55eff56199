//! The workbench: any calculation without a job.

use super::action::Action;
use super::effect::Effect;
use super::{App, Screen};

/// The workbench.
#[derive(Debug, Default)]
pub struct Bench {
    /// The row of the cursor.
    pub row: usize,
}

/// Does an action of the workbench.
pub(crate) fn act(app: &mut App, action: Action) -> Vec<Effect> {
    if action == Action::Workbench && app.screen != Screen::Welcome {
        app.go(Screen::Workbench);
    }
    Vec::new()
}

/// Goes up or down.
pub(crate) fn step(app: &mut App, by: isize) -> Vec<Effect> {
    app.bench.row = super::act::moved(app.bench.row, by, 1);
    Vec::new()
}
