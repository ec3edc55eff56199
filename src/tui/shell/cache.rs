//! What costs more to work out than to draw, kept ready for the screen that shows it: a fitting card
//! with its budgets. Made anew when the job or the practice's choices have changed, and only then.

use crate::job::Job;
use crate::practice::Practice;
use crate::tui::{App, Screen};
use crate::views::card::CardData;

/// What something was worked out from.
#[derive(Debug, Clone, PartialEq)]
struct From {
    number: String,
    job: Job,
    practice: Practice,
}

impl From {
    fn is(&self, number: &str, job: &Job, practice: &Practice) -> bool {
        self.number == number && self.job == *job && self.practice == *practice
    }

    fn new(number: &str, job: &Job, practice: &Practice) -> Self {
        Self {
            number: number.to_owned(),
            job: job.clone(),
            practice: practice.clone(),
        }
    }
}

/// What is kept ready.
#[derive(Debug, Default)]
pub struct Ready {
    card: Option<(From, CardData)>,
}

impl Ready {
    /// Returns the facts of the card that is shown.
    pub fn card(&self) -> Option<&CardData> {
        self.card.as_ref().map(|(_, facts)| facts)
    }
}

/// Works out what the screen in front shows and is not ready.
pub(super) fn refresh(app: &mut App) {
    let practice = &app.practice;
    let is_shown = matches!(
        app.screen,
        Screen::Worklist | Screen::Lookup | Screen::Collections
    );
    match &app.card {
        // Kept while another screen is in front: it may still be right afterwards.
        Some(_) if !is_shown => {}
        Some(open) => {
            let ready = &app.ready.card;
            if !ready
                .as_ref()
                .is_some_and(|(from, _)| from.is(&open.number, &open.job, practice))
            {
                let from = From::new(&open.number, &open.job, practice);
                app.ready.card = Some((from, CardData::of(&open.job, practice)));
            }
        }
        None => app.ready.card = None,
    }
}
