//! Taking the last entry of the open job back.

use crate::job::Section;
use crate::tui::App;
use crate::tui::effect::{Deed, Effect};
use crate::tui::job_view::{JobView, TakesBack};

/// Takes the last entry back, where what it wrote is still recorded.
pub(crate) fn undo(app: &mut App) -> Vec<Effect> {
    let Some(job) = &mut app.job else {
        return Vec::new();
    };
    if let Some(entry) = job.undo.pop() {
        if entry.still_stands(&job.open.job) {
            return vec![record(job, entry)];
        }
        // An origin beneath belongs to the entry that stays.
        job.undo.pop_if(|e| e.section == Section::Origins);
        app.complain("What your last entry wrote was changed since: it is left as it is now.");
        return Vec::new();
    }
    app.say("Nothing is left to take back.");
    Vec::new()
}

/// Gives a value that was taken back its origin again, which lies beneath it.
pub(crate) fn undo_origins(app: &mut App) -> Vec<Effect> {
    let Some(job) = &mut app.job else {
        return Vec::new();
    };
    let beneath = job.undo.pop_if(|e| e.section == Section::Origins);
    beneath.map_or_else(Vec::new, |entry| vec![record(job, entry)])
}

fn record(job: &JobView, entry: TakesBack) -> Effect {
    Effect::Act(Deed::Record {
        number: job.open.number.clone(),
        section: entry.section,
        change: entry.change,
        revision: job.open.revision,
        field: None,
        is_undo: true,
    })
}
