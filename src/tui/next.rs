//! What a screen wants done: a value that the shell carries out.

use std::fmt;

use super::action::Action;
use super::effect::{Deed, Effect};
use super::line::Line;
use super::notice::Notice;
use super::screen_name::Screen;
use super::secret::Secret;
use super::seen::Seen;

/// What comes of an input or of news.
#[derive(Debug)]
pub enum Next {
    /// It is none of the screen's own: the shell does what it does on every screen.
    Pass,
    /// Nothing beyond what the screen has changed in itself.
    Stay,
    /// Shows a sentence above the line of hints.
    Notice(Notice),
    /// Something is read, kept or printed.
    Do(Vec<Effect>),
    /// A person does something to the book; the shell settles who.
    Act(Deed),
    /// Who is acting is asked for, before something else is typed.
    AskWho,
    /// Something is asked.
    Ask(Question),
    /// The question that is open is closed, where it can only be answered for the job of a number.
    CloseQuestionOf(String),
    /// A person that was chosen acts from now on, once signed in where people sign in; then what
    /// waits for it is done.
    ActAs {
        /// Who.
        name: String,
        /// What waits.
        then: Option<Deed>,
    },
    /// What is to be done is made of what can be seen when it is done.
    Then(Then),
    /// The list of the practice's settings comes back at one of them, by its key, once a change of
    /// it is kept or refused.
    SettingsAgain(&'static str),
    /// A recheck of a collected pair is begun, by its number, and its visit shown.
    Recheck(String),
    /// An invented practice is made and shown, with the tour.
    Demo,
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
    /// The open job is closed, with what its form remembers.
    CloseJob,
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
        Self::Notice(Notice::good(text))
    }

    /// Says something that was refused or went wrong.
    pub(crate) fn complain(text: impl Into<String>) -> Self {
        Self::Notice(Notice::bad(text))
    }

    /// Is made of what can be seen when it is done.
    pub(crate) fn then(make: impl FnOnce(Seen<'_>) -> Self + 'static) -> Self {
        Self::Then(Then(Box::new(make)))
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

/// A question. Each answer is made when it is asked, as what then is to be done: it means the same
/// whatever has changed in the book since.
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
        /// What becomes of it without an answer.
        without: Without,
    },
    /// Asks for a line that is never shown.
    Secret {
        /// One sentence.
        title: String,
        /// Why the last answer was refused.
        error: Option<String>,
        /// Makes of the secret what is to be done.
        answered: AnsweredBySecret,
    },
    /// Asks for one of several answers.
    Choose {
        /// One sentence.
        title: String,
        /// Labels and answers.
        offered: Vec<(String, Next)>,
        /// Place of the one the cursor is on first.
        selected: usize,
        /// A line below the answers.
        note: Option<String>,
        /// What becomes of it without an answer.
        without: Without,
    },
}

/// What becomes of a question that goes unanswered.
#[derive(Debug, Default)]
pub struct Without {
    /// What is to be done once it is left, if anything.
    pub(crate) next: Option<Box<Next>>,
    /// Whether something waits for the answer, so that a scan does not close the question.
    pub(crate) is_needed: bool,
}

impl Question {
    /// Asks for a line of text.
    pub(crate) fn text(
        title: impl Into<String>,
        line: Line,
        answered: impl Fn(&str) -> Result<Next, String> + 'static,
    ) -> Self {
        Self::text_seen(title, line, move |text, _| answered(text))
    }

    /// Asks for a line of text whose meaning depends on what can be seen when it is answered.
    pub(crate) fn text_seen(
        title: impl Into<String>,
        line: Line,
        answered: impl Fn(&str, Seen<'_>) -> Result<Next, String> + 'static,
    ) -> Self {
        Self::Text {
            title: title.into(),
            line,
            answered: Answered(Box::new(answered)),
            check: None,
            only_for: None,
            without: Without::default(),
        }
    }

    /// Asks for a PIN or passphrase.
    pub(crate) fn secret(
        title: impl Into<String>,
        answered: impl FnOnce(Secret) -> Next + 'static,
    ) -> Self {
        Self::Secret {
            title: title.into(),
            error: None,
            answered: AnsweredBySecret(Box::new(answered)),
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
        Self::choose_from(title, offered, 0)
    }

    /// The same with the cursor on one of them.
    pub(crate) fn choose_from(
        title: impl Into<String>,
        offered: Vec<(String, Next)>,
        selected: usize,
    ) -> Self {
        Self::Choose {
            title: title.into(),
            offered,
            selected,
            note: None,
            without: Without::default(),
        }
    }

    /// Says the number of the job without which a question for a text is closed.
    #[must_use]
    pub(crate) fn only_for(mut self, number: String) -> Self {
        if let Self::Text { only_for, .. } = &mut self {
            *only_for = Some(number);
        }
        self
    }

    /// Says what is to be done where it is left without an answer.
    #[must_use]
    pub(crate) fn or_else(mut self, next: Next) -> Self {
        if let Self::Text { without, .. } | Self::Choose { without, .. } = &mut self {
            without.next = Some(Box::new(next));
        }
        self
    }

    /// Says whether something waits for the answer.
    #[must_use]
    pub(crate) fn needed(mut self, needed: bool) -> Self {
        if let Self::Text { without, .. } | Self::Choose { without, .. } = &mut self {
            without.is_needed = needed;
        }
        self
    }

    /// Puts a line below the answers.
    #[must_use]
    pub(crate) fn with_note(mut self, text: String) -> Self {
        if let Self::Choose { note, .. } = &mut self {
            *note = Some(text);
        }
        self
    }

    /// Says why the last secret was refused.
    #[must_use]
    pub(crate) fn refused(mut self, why: Option<String>) -> Self {
        if let Self::Secret { error, .. } = &mut self {
            *error = why;
        }
        self
    }
}

/// What is to be done with a text that was asked for.
pub struct Answered(Box<Takes>);

type Takes = dyn Fn(&str, Seen<'_>) -> Result<Next, String>;

impl Answered {
    /// Takes the text, trimmed; or says what to write instead.
    pub(crate) fn take(&self, text: &str, seen: Seen<'_>) -> Result<Next, String> {
        (self.0)(text, seen)
    }
}

impl fmt::Debug for Answered {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Answered")
    }
}

/// What is to be done with a secret that was asked for.
pub struct AnsweredBySecret(Box<dyn FnOnce(Secret) -> Next>);

impl AnsweredBySecret {
    /// Takes what was typed.
    pub(crate) fn take(self, given: Secret) -> Next {
        (self.0)(given)
    }
}

impl fmt::Debug for AnsweredBySecret {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("AnsweredBySecret")
    }
}

/// Makes what is to be done of what can be seen by then.
pub struct Then(Box<dyn FnOnce(Seen<'_>) -> Next>);

impl Then {
    /// Makes it.
    pub(crate) fn take(self, seen: Seen<'_>) -> Next {
        (self.0)(seen)
    }
}

impl fmt::Debug for Then {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Then")
    }
}
