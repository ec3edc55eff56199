//! The pictures of a job, one after the other.

use super::action::Action;
use super::effect::Effect;
use super::{App, Screen};
use crate::eye::Eye;
use crate::views::pictures::Kind;

/// Which picture is in front.
#[derive(Debug)]
pub struct Pictures {
    /// Its place among the pictures of the job.
    pub place: usize,
    /// Whose, where there is one for each eye.
    pub eye: Eye,
}

impl Default for Pictures {
    fn default() -> Self {
        Self {
            place: 0,
            eye: Eye::Right,
        }
    }
}

impl Pictures {
    /// The picture in front.
    pub fn kind(&self) -> Kind {
        Kind::ALL.get(self.place).copied().unwrap_or(Kind::Front)
    }
}

/// Does an action of the pictures.
pub(crate) fn act(app: &mut App, action: Action) -> Vec<Effect> {
    let count = Kind::ALL.len();
    match action {
        Action::Pictures if app.job.is_some() => app.go(Screen::Pictures),
        Action::NextPicture => app.pictures.place = (app.pictures.place + 1) % count,
        Action::PreviousPicture => app.pictures.place = (app.pictures.place + count - 1) % count,
        _ => {}
    }
    Vec::new()
}

/// Looks at the other eye.
pub(crate) fn step(app: &mut App) -> Vec<Effect> {
    app.pictures.eye = app.pictures.eye.other();
    Vec::new()
}
