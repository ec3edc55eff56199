//! The pictures of a job, one after the other.

use super::action::Action;
use super::effect::Effect;
use super::{App, Screen};

/// Which picture is in front.
#[derive(Debug, Default)]
pub struct Pictures {
    /// Its place among the pictures of the job.
    pub place: usize,
}

/// Does an action of the pictures.
pub(crate) fn act(app: &mut App, action: Action) -> Vec<Effect> {
    if action == Action::Pictures && app.job.is_some() {
        app.go(Screen::Pictures);
    }
    Vec::new()
}
