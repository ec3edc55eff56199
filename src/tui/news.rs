//! What reaches a screen: inputs, while it is the current one, and news, while it is on the stack.

use super::action::Action;
use super::key::Key;
use crate::book::desk::{Draft, JobLine, VisitLinks};
use crate::judge::gate::faults::SentBack;
use crate::views::figures::page::Report;

/// An input for the current screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ScreenInput<'a> {
    /// An action, by its key or from the list of actions.
    Action(Action),
    /// A key that is no action of the screen, or that it takes as text.
    Key(Key),
    /// Pasted text.
    Paste(&'a str),
    /// The answer to a question of the screen that it changes itself by; see `Next::Answer`.
    Answer(&'a str),
}

/// Something that happened; what can be seen by then has changed already.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum News<'a> {
    /// The screen was gone to and is the current one now.
    Entered,
    /// The screen above was left and this is the current one again.
    Returned,
    /// The lists, the people and the practice's choices were read.
    Book,
    /// Another program changed the book: what the current screen has read is read again.
    BookChanged,
    /// The practice's settings were changed from here.
    SettingsChanged,
    /// The job that is open was read, or is another one.
    Job,
    /// What was typed into the job that is open and is not recorded: paths of fields and texts.
    Drafts(&'a [Draft]),
    /// The tray of the job that is open was scanned.
    FromTray,
    /// The form is about to be shown, at the entry of a path.
    GoTo(&'a str),
    /// A fitting card was read.
    Card,
    /// A change of the open job, or of the one whose card is shown, was recorded.
    Recorded {
        /// Whether it took an entry back.
        is_undo: bool,
    },
    /// What was sent to be recorded was not: somebody else was first, or it failed.
    Refused,
    /// The job was moved, or held at its gate.
    Moved {
        /// Whether it was held.
        refused: bool,
    },
    /// Jobs were looked up by a text.
    Found {
        /// The text.
        text: &'a str,
        /// The jobs.
        lines: &'a [JobLine],
    },
    /// The figures of a period were counted.
    Counted(&'a Report),
    /// What was sent back lately was read.
    SentBack(&'a [SentBack]),
    /// The jobs that a visit is linked to were read.
    Links {
        /// The recheck.
        number: &'a str,
        /// The jobs.
        links: &'a VisitLinks,
    },
}
