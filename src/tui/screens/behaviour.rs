//! What every screen answers for.

use crate::book::desk::OpenJob;
use crate::tui::action::{Action, Scope};
use crate::tui::editor::Edit;
use crate::tui::key::Key;
use crate::tui::news::{News, ScreenInput};
use crate::tui::next::Next;
use crate::tui::seen::Seen;

/// What every screen answers for; its drawing is [`Draws`](super::draw::Draws).
pub trait Behaviour {
    /// Where its keys apply at the moment.
    fn scope(&self, seen: Seen<'_>) -> Scope;

    /// Takes an input; [`Next::Pass`] where it is none of its own.
    fn update(&mut self, input: ScreenInput<'_>, seen: Seen<'_>) -> Next;

    /// Takes the number of a job whose tray was scanned, while it is the current screen;
    /// [`Next::Pass`] where the job is opened as from anywhere.
    fn scanned(&mut self, _number: &str, _seen: Seen<'_>) -> Next {
        Next::Pass
    }

    /// Takes news, while it is on the stack.
    fn notice(&mut self, _news: News<'_>, _seen: Seen<'_>) -> Next {
        Next::Stay
    }

    /// Whether a key is text here at the moment, rather than the key of an action.
    fn is_text(&self, _key: Key, _seen: Seen<'_>) -> bool {
        false
    }

    /// The actions that do something at the moment, what is needed most first: a narrow window leaves
    /// the last ones out.
    fn hints(&self, seen: Seen<'_>) -> Vec<Action>;

    /// The entry that is being typed.
    fn typing(&self) -> Option<&Edit> {
        None
    }

    /// The job that the top line names.
    fn named<'a>(&'a self, _seen: Seen<'a>) -> Option<&'a OpenJob> {
        None
    }

    /// The number of the selected job, which the actions of every screen are about.
    fn selected<'a>(&'a self, _seen: Seen<'a>) -> Option<&'a str> {
        None
    }
}
