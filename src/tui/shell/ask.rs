//! The questions over the current screen: what an answer wants is carried out like what a key wants.

use super::app::App;
use crate::tui::next::Question;
use crate::tui::question::Dialog;
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
            answered,
            check,
            only_for,
            without,
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
