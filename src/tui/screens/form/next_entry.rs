//! Where the cursor goes by itself: to the next entry that the gate asks for, past what is filled.

use serde_json::Value;

use super::State;
use super::marked::{asked_for, in_order};
use crate::trade::eye::Eye;
use crate::tui::form_rows::{self, EntryPlace, TABS};
use crate::tui::job_view::JobView;
use crate::tui::next::Next;
use crate::tui::seen::Seen;

impl State {
    /// Keeps what is being typed and goes to the next entry about which the gate has something open, in
    /// the order of the form; after the last one, to the first.
    pub(super) fn next_marked(&mut self, seen: Seen<'_>) -> Next {
        let Some(job) = seen.job else {
            return Next::Stay;
        };
        let here = self.of_cursor();
        let kept = self.commit(true, seen);
        let opened_at = self.opened_at.take();
        if self.editor.sent().is_some() {
            self.onward = Some(here);
        } else if !self.editor.is_open() {
            // Who opens a form and asks for the first entry is there already: what is typed next must
            // not land in the second.
            let next = if is_where_it_opened(job, opened_at, here) {
                Next::say("This is the first entry that the gate asks for; once more goes on.")
            } else {
                self.go_on(here, job)
            };
            return kept.and(next);
        }
        // Else it was not kept, and the reason is shown with it.
        kept
    }

    /// Goes to the first marked entry after a place.
    pub(super) fn go_on(&mut self, here: EntryPlace, job: &JobView) -> Next {
        if self.editor.is_open() {
            return Next::Stay;
        }
        match next_place(job, here) {
            Some(place) => {
                self.put(place);
                Next::Stay
            }
            None => Next::say("The gate asks for nothing else."),
        }
    }

    /// Whether there is an entry to go on to.
    pub(super) fn has_next(&self, job: &JobView) -> bool {
        let here = self.of_cursor();
        !is_where_it_opened(job, self.opened_at, here) && next_place(job, here).is_some()
    }

    fn of_cursor(&self) -> EntryPlace {
        // A row of its own belongs to no eye.
        let is_pair = self.shown_row().is_some_and(|r| r.is_pair());
        let eye = if is_pair { self.eye } else { Eye::Right };
        (self.tab, self.row, eye)
    }

    /// Goes on past the rows that a whole power has filled: what is typed next is below them.
    pub(super) fn past_filled(&mut self, change: &Value) {
        let rows = form_rows::of_tab(self.tab);
        let is_set = |eye: Eye, at: usize| {
            rows.get(at).is_some_and(|row| {
                let field = row.field(eye);
                let pointer = format!("/{}", field.path.replace('.', "/"));
                row.is_pair() && change.pointer(&pointer).is_some_and(|v| !v.is_null())
            })
        };
        // Not while the other eye's power is still to be typed.
        let is_beside =
            self.eye == Eye::Left && is_set(Eye::Right, self.row) && !is_set(Eye::Left, self.row);
        if is_beside || TABS.get(self.tab).is_none() {
            return;
        }
        while self.row + 1 < rows.len() && Eye::BOTH.iter().any(|eye| is_set(*eye, self.row)) {
            (self.row, self.eye) = (self.row + 1, Eye::Right);
        }
    }
}

/// The first marked entry after a place; after the last one, the first.
fn next_place(job: &JobView, here: EntryPlace) -> Option<EntryPlace> {
    let mut marked = asked_for(&job.findings);
    marked.retain(|place| *place != here);
    let after = marked.iter().find(|p| in_order(**p) > in_order(here));
    after.or(marked.first()).copied()
}

/// Whether the cursor is still where the form opened, at an entry that the gate asks for.
fn is_where_it_opened(job: &JobView, opened_at: Option<EntryPlace>, here: EntryPlace) -> bool {
    opened_at == Some(here) && asked_for(&job.findings).contains(&here)
}
