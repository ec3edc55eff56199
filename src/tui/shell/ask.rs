//! The questions over the current screen: what an answer wants is carried out like what a key wants.

use super::app::App;
use crate::tui::next::{Answered, Next, Question, Without};
use crate::tui::question::{Dialog, TextAsker};
use crate::tui::secret::Secret;

/// Asks a question.
pub(super) fn ask(app: &mut App, question: Question) {
    app.dialog = Some(match question {
        Question::Text {
            title,
            line,
            answered,
            check,
            only_for,
            without,
        } => Dialog::Text {
            title,
            line,
            error: None,
            asker: Box::new(OfText {
                answered,
                check,
                only_for,
                without,
            }),
        },
        Question::Secret {
            title,
            error,
            answered,
        } => Dialog::Secret {
            title,
            line: Secret::default(),
            error,
            answered,
        },
        Question::Choose {
            title,
            offered,
            selected,
            note,
            without,
        } => {
            let (items, answers) = offered.into_iter().unzip();
            Dialog::Choose {
                title,
                items,
                note,
                selected,
                typed: String::new(),
                answers,
                without,
            }
        }
    });
}

#[derive(Debug)]
struct OfText {
    answered: Answered,
    check: Option<&'static str>,
    only_for: Option<String>,
    without: Without,
}

impl TextAsker for OfText {
    fn answered(&self, app: &mut App, text: &str) -> Result<Next, String> {
        self.answered.take(text, app.seen())
    }

    fn unanswered(self: Box<Self>) -> Option<Box<Next>> {
        self.without.next
    }

    fn is_needed(&self) -> bool {
        self.without.is_needed
    }

    fn check(&self) -> Option<&'static str> {
        self.check
    }

    fn only_for(&self) -> Option<&str> {
        self.only_for.as_deref()
    }
}
