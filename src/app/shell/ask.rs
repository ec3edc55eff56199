//! The questions of the screens: what an answer wants is carried out like what a key wants.

use super::carry_out::carry_out;
use crate::app::App;
use crate::app::effect::Effect;
use crate::app::next::{Answered, Next, Question};
use crate::app::question::{ChoiceAsker, TextAsker};

/// Asks a question of a screen.
pub(super) fn ask(app: &mut App, question: Question) {
    match question {
        Question::Text {
            title,
            line,
            answered,
            check,
            only_for,
        } => {
            let asker = OfText {
                answered,
                check,
                only_for,
            };
            app.ask_with(title, line, asker);
        }
        Question::Choose {
            title,
            offered,
            selected,
        } => app.choose_from(title, offered, selected, OfChoice),
    }
}

#[derive(Debug)]
struct OfText {
    answered: Answered,
    check: Option<&'static str>,
    only_for: Option<String>,
}

impl TextAsker for OfText {
    fn answered(&self, app: &mut App, text: &str) -> Result<Vec<Effect>, String> {
        let next = self.answered.take(text)?;
        Ok(carry_out(app, next))
    }

    fn check(&self) -> Option<&'static str> {
        self.check
    }

    fn only_for(&self) -> Option<&str> {
        self.only_for.as_deref()
    }
}

#[derive(Debug)]
struct OfChoice;

impl ChoiceAsker for OfChoice {
    type Answer = Next;

    fn answered(self, app: &mut App, next: Next) -> Vec<Effect> {
        carry_out(app, next)
    }
}
