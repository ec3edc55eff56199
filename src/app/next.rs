//! What a screen wants done: a value that the shell carries out.

use super::action::Action;
use super::dialog::Dialog;
use super::effect::{Deed, Effect};
use super::said::Said;
use super::which::Screen;

/// What comes of an input or of news.
#[derive(Debug)]
pub enum Next {
    /// It is none of the screen's own: the shell does what it does on every screen.
    Pass,
    /// Nothing beyond what the screen has changed in itself.
    Stay,
    /// A sentence is said.
    Notice(Said),
    /// Something is read, kept or printed.
    Do(Vec<Effect>),
    /// A person does something to the book; the shell settles who.
    Act(Deed),
    /// Who is acting is asked for, before something else is typed.
    AskWho,
    /// Something is asked.
    Ask(Dialog),
    /// Another screen becomes the current one.
    Go(Screen),
    /// The screen before becomes the current one.
    Back,
    /// An action of every screen, or of the shell, is done.
    Run(Action),
    /// Several of these, in their order.
    All(Vec<Self>),
}

impl Next {
    /// Says something that went well.
    pub(crate) fn say(text: impl Into<String>) -> Self {
        Self::Notice(Said::good(text))
    }

    /// Says something that was refused or went wrong.
    pub(crate) fn complain(text: impl Into<String>) -> Self {
        Self::Notice(Said::bad(text))
    }

    /// Adds something that is done after this.
    #[must_use]
    pub(crate) fn and(self, next: Self) -> Self {
        match (self, next) {
            (Self::Stay, next) => next,
            (first, Self::Stay) => first,
            (Self::All(mut all), next) => {
                all.push(next);
                Self::All(all)
            }
            (first, next) => Self::All(vec![first, next]),
        }
    }
}

impl From<Option<Effect>> for Next {
    fn from(effect: Option<Effect>) -> Self {
        effect.map_or(Self::Stay, |effect| Self::Do(vec![effect]))
    }
}
