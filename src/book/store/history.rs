//! Writing and reading history; [`super::chain`] binds its rows together.

use chrono::NaiveDateTime;
use rusqlite::OptionalExtension;
use serde_json::Value;

use super::book::{Store, Write};
use super::chain::{self, HistoryEntry};
use super::error::StoreError;
use super::fault::Walk;
use super::standing::{self, Binds};
use super::times::{as_kept, local_time};
use super::walk;

/// An event as it is stored: when, who, what, the content. Erased content is null.
pub(crate) type EventRow = (NaiveDateTime, Option<String>, String, Value);

/// An event to be kept.
#[derive(Debug, Clone, Copy)]
pub struct NewEvent<'a> {
    /// When.
    pub at: NaiveDateTime,
    /// Who; `None` for the program itself.
    pub by: Option<&'a str>,
    /// What.
    pub what: &'a str,
    /// The content.
    pub detail: &'a Value,
}

/// Name of the event of a restore.
pub(crate) const RESTORED: &str = "restored";

/// The events of a job after an entry.
pub(super) const OF_A_JOB: &str = "h.job_id = ?1 AND h.id > ?2";

/// The query of the events of history for which a condition holds, oldest first.
pub(super) fn events_where(of: &str) -> String {
    format!(
        "SELECT h.at, h.by, h.what, d.detail, h.id FROM history h
         LEFT JOIN history_detail d ON d.id = h.id WHERE {of} ORDER BY h.id"
    )
}

impl Store {
    /// Returns the history of a job, oldest first.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn history(&self, id: i64) -> Result<Vec<EventRow>, StoreError> {
        Ok(self
            .history_after(id, 0)?
            .into_iter()
            .map(|(_, event)| event)
            .collect())
    }

    /// Returns the history of a job after an entry, oldest first, each with its id.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn history_after(&self, id: i64, after: i64) -> Result<Vec<(i64, EventRow)>, StoreError> {
        self.numbered(OF_A_JOB, &[&id, &after])
    }

    /// Returns the history of the practice itself, oldest first: people, settings, erasures.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn practice_history(&self) -> Result<Vec<EventRow>, StoreError> {
        self.events("(h.job_id IS NULL OR h.what = ?1)", &[&chain::ERASED])
    }

    /// Returns the erasures of jobs, oldest first.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn erasures(&self) -> Result<Vec<EventRow>, StoreError> {
        self.events("h.what = ?1", &[&chain::ERASED])
    }

    fn events(&self, of: &str, with: &[&dyn rusqlite::ToSql]) -> Result<Vec<EventRow>, StoreError> {
        let rows = self.numbered(of, with)?;
        Ok(rows.into_iter().map(|(_, event)| event).collect())
    }

    fn numbered(
        &self,
        of: &str,
        with: &[&dyn rusqlite::ToSql],
    ) -> Result<Vec<(i64, EventRow)>, StoreError> {
        let mut statement = self.connection.prepare_cached(&events_where(of))?;
        let rows = statement.query_map(with, |r| {
            Ok((
                r.get::<_, String>(0)?,
                r.get(1)?,
                r.get(2)?,
                r.get::<_, Option<String>>(3)?,
                r.get::<_, i64>(4)?,
            ))
        })?;
        rows.map(|r| {
            let (at, by, what, detail, id): (String, _, _, _, _) = r?;
            let at = local_time(&at).ok_or(StoreError::Content("a time"))?;
            let detail = match detail {
                Some(text) => {
                    serde_json::from_str(&text).map_err(|_| StoreError::Content("an event"))?
                }
                None => Value::Null,
            };
            Ok((id, (at, by, what, detail)))
        })
        .collect()
    }

    /// Walks the chain of history from its first row to its newest.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn walk_history(&self) -> Result<Walk, StoreError> {
        walk::walk(&self.connection)
    }
}

impl Write<'_> {
    /// Adds an event of a job; it binds the job as it is now in this write.
    ///
    /// # Errors
    /// [`StoreError::NotAsHistory`] for a job that was changed past the program before this write: the
    /// event would bind that change.
    pub fn event(&self, id: i64, event: NewEvent<'_>) -> Result<(), StoreError> {
        if !self.is_known(id) {
            let number: Option<String> = self
                .transaction
                .prepare_cached("SELECT number FROM job WHERE id = ?1")?
                .query_row([id], |r| r.get(0))
                .optional()?;
            if let Some(number) = number {
                self.is_as_history(id, &number)?;
            }
        }
        self.bind(Some(id), event, Binds::Job(id))
    }

    /// Refuses a job that is not as the newest entry of history about it says.
    pub(super) fn is_as_history(&self, id: i64, number: &str) -> Result<(), StoreError> {
        if standing::is_as_history_says(&self.transaction, id)? {
            self.now_known(id);
            Ok(())
        } else {
            Err(StoreError::NotAsHistory(number.to_owned()))
        }
    }

    /// Adds an event of the practice itself; it binds staff list, settings and secrets where this write
    /// has changed one of them.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn practice_event(&self, event: NewEvent<'_>) -> Result<(), StoreError> {
        let binds = if self.practice_changes.get() {
            Binds::Practice
        } else {
            Binds::Nothing
        };
        self.bind(None, event, binds)
    }

    /// Refuses to change staff list, settings or secrets while they are not as history says: the event
    /// of the change would bind what was changed past the program.
    pub(super) fn changes_practice(&self) -> Result<(), StoreError> {
        if !self.practice_changes.get() {
            if !standing::practice_differs(&self.transaction)?.is_empty() {
                return Err(StoreError::PracticeNotAsHistory);
            }
            self.practice_changes.set(true);
        }
        Ok(())
    }

    fn bind(
        &self,
        job_id: Option<i64>,
        event: NewEvent<'_>,
        binds: Binds,
    ) -> Result<(), StoreError> {
        let (at, detail) = (as_kept(event.at), event.detail.to_string());
        let entry = HistoryEntry {
            job_id,
            at: &at,
            by: event.by,
            what: event.what,
            detail: &detail,
        };
        chain::append(&self.transaction, &entry, binds)
    }
}
