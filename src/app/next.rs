//! What a screen wants done: a value that the shell carries out.

use std::fmt;

use super::action::Action;
use super::effect::{Deed, Effect};
use super::line::Line;
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
    Ask(Question),
    /// A letter is typed into the question that is open.
    Type(char),
    /// The current screen is given an answer that it offered.
    Answer(String),
    /// The fitting card of a job is shown beside the list; none where no job is selected.
    Card(Option<String>),
    /// Jobs are looked up by a text that is begun.
    LookUp(String),
    /// A job is begun for a wearer whose name is asked for; what is known of it is put in.
    NewJob(String),
    /// The form is gone to, at an entry.
    GoToField(String),
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

/// A question that a screen asks. Each answer is made by the screen when it asks, as what then is to be
/// done: it means the same whatever has changed in the book since.
#[derive(Debug)]
pub enum Question {
    /// Asks for a line of text.
    Text {
        /// One sentence.
        title: String,
        /// What is put in beforehand.
        line: Line,
        /// Makes of the text what is to be done; or says what to write instead.
        answered: Answered,
        /// The check whose earlier reasons are offered.
        check: Option<&'static str>,
        /// Number of the job without which the question is closed.
        only_for: Option<String>,
    },
    /// Asks for one of several answers.
    Choose {
        /// One sentence.
        title: String,
        /// Labels and answers.
        offered: Vec<(String, Next)>,
        /// Place of the one the cursor is on first.
        selected: usize,
    },
}

#[allow(dead_code, reason = "screens take it up one after the other")]
impl Question {
    /// Asks for a line of text.
    pub(crate) fn text(
        title: impl Into<String>,
        line: Line,
        answered: impl Fn(&str) -> Result<Next, String> + 'static,
    ) -> Self {
        Self::Text {
            title: title.into(),
            line,
            answered: Answered(Box::new(answered)),
            check: None,
            only_for: None,
        }
    }

    /// Offers the earlier reasons for which a check was accepted.
    #[must_use]
    pub(crate) fn offering_reasons_for(mut self, of: &'static str) -> Self {
        if let Self::Text { check, .. } = &mut self {
            *check = Some(of);
        }
        self
    }

    /// Asks for one of several answers.
    pub(crate) fn choose(title: impl Into<String>, offered: Vec<(String, Next)>) -> Self {
        Self::Choose {
            title: title.into(),
            offered,
            selected: 0,
        }
    }
}

/// What is to be done with a text that was asked for.
pub struct Answered(Box<Takes>);

type Takes = dyn Fn(&str) -> Result<Next, String>;

impl Answered {
    /// Takes the text, trimmed; or says what to write instead.
    pub(crate) fn take(&self, text: &str) -> Result<Next, String> {
        (self.0)(text)
    }
}

impl fmt::Debug for Answered {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Answered")
    }
}
