//! Which picture of the job is shown, and the picture, worked out when it changes and not at each
//! drawing.

use crate::book::desk::OpenJob;
use crate::trade::eye::Eye;
use crate::tui::action::{Action, Scope};
use crate::tui::news::{News, ScreenInput};
use crate::tui::next::Next;
use crate::tui::screens::behaviour::Behaviour;
use crate::tui::seen::Seen;
use crate::views::pictures::{PictureKind, picture};
use crate::views::plot::Picture;

/// Which picture is shown.
#[derive(Debug)]
pub struct State {
    /// Its place among the pictures of the job.
    pub place: usize,
    /// Whose, where there is one for each eye.
    pub eye: Eye,
    /// The picture; none of the frame front, which is drawn from the job itself.
    pub(super) picture: Option<Picture>,
}

impl Default for State {
    fn default() -> Self {
        Self {
            place: 0,
            eye: Eye::Right,
            picture: None,
        }
    }
}

impl State {
    /// What the current picture shows.
    pub fn kind(&self) -> PictureKind {
        PictureKind::ALL
            .get(self.place)
            .copied()
            .unwrap_or(PictureKind::Front)
    }

    fn turn(&mut self, by: usize, seen: Seen<'_>) -> Next {
        self.place = (self.place + by) % PictureKind::ALL.len();
        self.work_out(seen)
    }

    fn work_out(&mut self, seen: Seen<'_>) -> Next {
        let job = seen.job.map(|j| &j.open.job);
        self.picture = job.map(|job| picture(self.kind(), job, seen.practice, self.eye));
        Next::Stay
    }
}

impl Behaviour for State {
    fn scope(&self, _seen: Seen<'_>) -> Scope {
        Scope::Pictures
    }

    fn update(&mut self, input: ScreenInput<'_>, seen: Seen<'_>) -> Next {
        match input {
            ScreenInput::Action(Action::NextPicture) => self.turn(1, seen),
            ScreenInput::Action(Action::PreviousPicture) => {
                self.turn(PictureKind::ALL.len() - 1, seen)
            }
            // There are two eyes: down and up both go to the other one.
            ScreenInput::Action(Action::Down | Action::Up) => {
                self.eye = self.eye.other();
                self.work_out(seen)
            }
            _ => Next::Pass,
        }
    }

    fn notice(&mut self, news: News<'_>, seen: Seen<'_>) -> Next {
        match news {
            News::Entered | News::Returned | News::Job | News::Book => self.work_out(seen),
            _ => Next::Stay,
        }
    }

    fn hints(&self, _seen: Seen<'_>) -> Vec<Action> {
        vec![
            Action::NextPicture,
            Action::PreviousPicture,
            Action::Help,
            Action::Back,
        ]
    }

    fn named<'a>(&'a self, seen: Seen<'a>) -> Option<&'a OpenJob> {
        seen.job.map(|j| &j.open)
    }
}
