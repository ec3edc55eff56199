//! Writing and reading history; how its rows are bound together is in [`super::chain`].

use chrono::NaiveDateTime;
use rusqlite::Connection;
use serde_json::Value;

use super::chain::{self, Entry, Walk};
use super::error::StoreError;
use super::{Store, Write};

/// An event as it is stored: when, who, what, the content. Erased content is null.
pub type EventRow = (NaiveDateTime, Option<String>, String, Value);

/// An event to be kept.
#[derive(Debug, Clone, Copy)]
pub struct What<'a> {
    /// When.
    pub at: NaiveDateTime,
    /// Who; none for the program itself.
    pub by: Option<&'a str>,
    /// What.
    pub what: &'a str,
    /// The content.
    pub detail: &'a Value,
}

pub(super) const AT: &str = "%Y-%m-%dT%H:%M:%S";

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
            let (at, by, what, detail, id) = r?;
            let at = at.parse().map_err(|_| StoreError::Content("a time"))?;
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
        chain::walk(&self.connection)
    }
}

impl Write<'_> {
    /// Adds an event of a job as it stands by now in this write.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn event(&self, id: i64, event: What<'_>) -> Result<(), StoreError> {
        let stands: Option<String> = self
            .transaction
            .prepare_cached("SELECT content FROM job WHERE id = ?1")?
            .query_row([id], |r| r.get(0))
            .map(Some)
            .or_else(|e| match e {
                rusqlite::Error::QueryReturnedNoRows => Ok(None),
                e => Err(e),
            })?;
        self.bind(Some(id), event, stands.as_deref())
    }

    /// Adds an event of the practice itself.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn practice_event(&self, event: What<'_>) -> Result<(), StoreError> {
        self.bind(None, event, None)
    }

    fn bind(
        &self,
        job_id: Option<i64>,
        event: What<'_>,
        state: Option<&str>,
    ) -> Result<(), StoreError> {
        let (at, detail) = (event.at.format(AT).to_string(), event.detail.to_string());
        let entry = Entry {
            job_id,
            at: &at,
            by: event.by,
            what: event.what,
            detail: &detail,
        };
        chain::append(&self.transaction, &entry, state)
    }
}

/// Takes the events of a book from before there was a chain into it, in their order.
///
/// Only the newest event of each job is bound to the job as it stands: how it stood before is told
/// by the events' contents alone.
///
/// # Errors
/// [`StoreError`] of the file.
pub(super) fn bind_earlier_events(c: &Connection) -> Result<(), StoreError> {
    {
        let mut statement = c.prepare(
            "SELECT e.job_id, e.at, e.by, e.what, e.detail,
                    CASE WHEN e.id = (SELECT max(id) FROM event WHERE job_id = e.job_id) THEN j.content END
             FROM event e JOIN job j ON j.id = e.job_id ORDER BY e.id",
        )?;
        let mut rows = statement.query([])?;
        while let Some(row) = rows.next()? {
            let (at, what, detail): (String, String, String) =
                (row.get(1)?, row.get(3)?, row.get(4)?);
            let by: Option<String> = row.get(2)?;
            let entry = Entry {
                job_id: row.get(0)?,
                at: &at,
                by: by.as_deref(),
                what: &what,
                detail: &detail,
            };
            let state: Option<String> = row.get(5)?;
            chain::append(c, &entry, state.as_deref())?;
        }
    }
    c.execute_batch(
        "DROP TRIGGER event_is_history_update; DROP TRIGGER event_is_history_delete; DROP TABLE event;",
    )?;
    Ok(())
}
