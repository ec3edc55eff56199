//! What costs more to work out than to draw, kept ready for the screen that shows it: a fitting card
//! with its budgets. Worked out again when the job or the practice's choices have changed, and only then.

use super::app::App;
use super::ready::From;
use crate::tui::screen_name::Screen;
use crate::views::card::CardData;

/// Works out what the current screen shows and has not worked out yet.
pub(super) fn refresh(app: &mut App) {
    let practice = &app.practice;
    let is_shown = matches!(
        app.screen,
        Screen::Worklist | Screen::Lookup | Screen::Collections
    );
    match &app.card {
        // Kept while another screen is shown: it may still be right afterwards.
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
