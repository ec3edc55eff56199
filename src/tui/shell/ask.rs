//! The questions over the current screen: what an answer wants is carried out like what a key wants.

use super::carry_out::carry_out;
use crate::tui::App;
use crate::tui::effect::Effect;
use crate::tui::next::{Answered, AnsweredBySecret, Next, Question, Without};
use crate::tui::question::{Answers, Dialog, SecretAsker, TextAsker};
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
            asker: Box::new(OfSecret(answered)),
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
                answers: Box::new(OfChoice { answers, without }),
            }
        }
    });
}

fn unanswered(app: &mut App, without: Without) -> Vec<Effect> {
    without
        .next
        .map_or_else(Vec::new, |next| carry_out(app, *next))
}

#[derive(Debug)]
struct OfText {
    answered: Answered,
    check: Option<&'static str>,
    only_for: Option<String>,
    without: Without,
}

impl TextAsker for OfText {
    fn answered(&self, app: &mut App, text: &str) -> Result<Vec<Effect>, String> {
        let next = self.answered.take(text, app.seen())?;
        Ok(carry_out(app, next))
    }

    fn unanswered(self: Box<Self>, app: &mut App) -> Vec<Effect> {
        unanswered(app, self.without)
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

#[derive(Debug)]
struct OfSecret(AnsweredBySecret);

impl SecretAsker for OfSecret {
    fn answered(self: Box<Self>, app: &mut App, given: Secret) -> Vec<Effect> {
        carry_out(app, self.0.take(given))
    }
}

#[derive(Debug)]
struct OfChoice {
    answers: Vec<Next>,
    without: Without,
}

impl Answers for OfChoice {
    fn choose(self: Box<Self>, app: &mut App, place: usize) -> Vec<Effect> {
        let next = self.answers.into_iter().nth(place);
        next.map_or_else(Vec::new, |next| carry_out(app, next))
    }

    fn unanswered(self: Box<Self>, app: &mut App) -> Vec<Effect> {
        unanswered(app, self.without)
    }

    fn is_needed(&self) -> bool {
        self.without.is_needed
    }
}
