//! The history of a job.

use serde_json::Value;

use super::error::DeskError;
use super::open::Desk;
use super::view::Event;
use crate::book::clock::Clock;
use crate::book::store::EventRow;

impl Desk {
    /// Returns the history of a job, oldest first.
    pub fn history(&self, number: &str) -> Result<Vec<Event>, DeskError> {
        let id = self.store.id_of(number)?;
        Ok(self.store.history(id)?.into_iter().map(event).collect())
    }

    /// Returns the entries of a job's history after the entry of an id, oldest first, each with
    /// its id; 0 comes before all.
    ///
    /// # Errors
    /// [`DeskError`] for a job that is not there, and of the file.
    pub fn history_after(&self, number: &str, after: i64) -> Result<Vec<(i64, Event)>, DeskError> {
        let id = self.store.id_of(number)?;
        let rows = self.store.history_after(id, after)?;
        Ok(rows.into_iter().map(|(id, row)| (id, event(row))).collect())
    }
}

pub(super) fn event((at, by, what, detail): EventRow) -> Event {
    Event {
        at,
        by,
        what,
        detail,
    }
}

/// Adds a fixed day to an event, so that a trial is never taken for a day's work.
pub(super) fn with_trial_day(clock: Clock, mut detail: Value) -> Value {
    if let (Some(day), Some(map)) = (clock.fixed, detail.as_object_mut()) {
        map.insert("day_fixed_to".to_owned(), day.to_string().into());
    }
    detail
}
