//! A question over the current screen, and the asker that takes its answer.

use super::line::Line;
use super::next::{Answered, AnsweredBySecret, Next, Without};
use super::secret::Secret;

/// Returns a text that must not be empty; or says what is to be written.
pub(crate) fn needed(text: &str, what: &str) -> Result<String, String> {
    if text.is_empty() {
        return Err(format!("Write {what}, or Esc to leave it."));
    }
    Ok(text.to_owned())
}

/// What lies over the current screen.
#[derive(Debug)]
pub enum Dialog {
    /// The keys of the screen.
    Help {
        /// First row shown.
        top: usize,
    },
    /// Every action of the screen by name.
    Palette {
        /// What is looked for.
        line: Line,
        /// The selected one.
        selected: usize,
    },
    /// Asks for a line of text.
    Text {
        /// One sentence.
        title: String,
        /// What is typed.
        line: Line,
        /// Why the last answer was refused.
        error: Option<String>,
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
        /// What is typed.
        line: Secret,
        /// Why the last answer was refused.
        error: Option<String>,
        /// Makes of the secret what is to be done.
        answered: AnsweredBySecret,
    },
    /// Asks for one of several answers.
    Choose {
        /// One sentence.
        title: String,
        /// Their labels.
        items: Vec<String>,
        /// A line below them.
        note: Option<String>,
        /// Place of the selected one.
        selected: usize,
        /// The letters typed to go to one by its beginning.
        typed: String,
        /// The answers, in the same order.
        answers: Vec<Next>,
        /// What becomes of it without an answer.
        without: Without,
    },
}

impl Dialog {
    /// Goes to the answer whose label begins with the letters typed until now.
    pub(crate) fn type_letter(&mut self, c: char) {
        if let Self::Choose {
            items,
            selected,
            typed,
            ..
        } = self
            && let Some((to, letters)) = by_letters(items, *selected, typed, c)
        {
            *selected = to;
            *typed = letters;
        }
    }

    /// Whether nothing is lost when the question goes unanswered.
    pub(crate) fn can_be_left(&self) -> bool {
        match self {
            Self::Help { .. } | Self::Palette { .. } => true,
            Self::Secret { .. } => false,
            Self::Text { line, without, .. } => line.text().is_empty() && !without.is_needed,
            Self::Choose { without, .. } => !without.is_needed,
        }
    }
}

/// The entry that letters lead to: with those typed before, the first one that begins so; else the
/// one that begins with the last letter, the selected one itself only for a first letter. Returns also
/// what counts as typed.
fn by_letters(items: &[String], selected: usize, typed: &str, c: char) -> Option<(usize, String)> {
    let begins = |i: usize, with: &str| {
        items
            .get(i)
            .is_some_and(|t| t.to_lowercase().starts_with(with))
    };
    let letter: String = c.to_lowercase().collect();
    let all = format!("{typed}{letter}");
    if !typed.is_empty()
        && let Some(i) = (0..items.len()).find(|i| begins(*i, &all))
    {
        return Some((i, all));
    }
    let from = selected + usize::from(!typed.is_empty());
    let mut after = (from..items.len()).chain(0..items.len());
    let found = after.find(|i| begins(*i, &letter))?;
    Some((found, letter))
}
