//! Taking the last entry of the open job back.

use super::app::App;
use crate::job::Section;
use crate::tui::effect::Deed;
use crate::tui::job_view::{JobView, UndoEntry};
use crate::tui::next::Next;

/// Takes the last entry back, where what it wrote is still recorded.
pub(crate) fn undo(app: &mut App) -> Next {
    let Some(job) = &mut app.job else {
        return Next::Stay;
    };
    if let Some(entry) = job.undo.pop() {
        if entry.is_unchanged(&job.open.job) {
            return record(job, entry);
        }
        // An origin beneath belongs to the entry that stays.
        job.undo.pop_if(|e| e.section == Section::Origins);
        app.complain("What your last entry wrote was changed since: it is left as it is now.");
        return Next::Stay;
    }
    app.say("Nothing is left to take back.");
    Next::Stay
}

/// Gives a value that was taken back its origin again, which lies beneath it.
pub(crate) fn undo_origins(app: &mut App) -> Next {
    let Some(job) = &mut app.job else {
        return Next::Stay;
    };
    let beneath = job.undo.pop_if(|e| e.section == Section::Origins);
    beneath.map_or(Next::Stay, |entry| record(job, entry))
}

fn record(job: &JobView, entry: UndoEntry) -> Next {
    Next::Act(Deed::Record {
        number: job.open.number.clone(),
        section: entry.section,
        change: entry.change,
        revision: job.open.revision,
        field: None,
        is_undo: true,
    })
}
