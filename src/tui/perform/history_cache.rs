//! The history of the job that is open: read once, then only what has been added since.

use crate::book::desk::{Desk, DeskError, Event};

/// The events of one job that have been read so far, oldest first.
#[derive(Debug, Default)]
pub(super) struct HistoryCache {
    number: String,
    last: i64,
    events: Vec<Event>,
}

impl HistoryCache {
    /// Returns the whole history of a job, oldest first.
    pub(super) fn history(&mut self, desk: &Desk, number: &str) -> Result<Vec<Event>, DeskError> {
        if self.number != number {
            *self = Self {
                number: number.to_owned(),
                ..Self::default()
            };
        }
        for (id, event) in desk.history_after(number, self.last)? {
            self.last = id;
            self.events.push(event);
        }
        Ok(self.events.clone())
    }
}
