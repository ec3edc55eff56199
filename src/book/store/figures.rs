//! Reading the jobs for the figures, one after the other, in one read transaction.

use chrono::{NaiveDate, NaiveDateTime};
use rusqlite::{Connection, OptionalExtension, Transaction, TransactionBehavior, params};
use serde_json::Value;

use super::book::Store;
use super::error::StoreError;
use super::row;
use super::times::local_time;
use crate::job::Job;

/// The events that are counted, as the index has them.
const COUNTED: &str = "what IN ('moved', 'sent back', 'accepted', 'recheck begun')";

/// A job with its counted events.
#[derive(Debug, Clone, PartialEq)]
pub struct CountedRow {
    /// As it is now.
    pub job: Job,
    /// The job as it first passed the gate to ordered.
    pub ordered: Option<Job>,
    /// The day of the readings with which it first passed the gate to verified.
    pub read_on: Option<NaiveDate>,
    /// Whether the linked job is imported history.
    pub follows_past: bool,
    /// When, what and, of what is counted, the content.
    pub events: Vec<(NaiveDateTime, String, Value)>,
}

/// Something to count.
#[derive(Debug)]
pub enum Counted {
    /// A job of which something happened in the time.
    Job(Box<CountedRow>),
    /// An order that is out today: its laboratory and the day it is due.
    Out(Option<String>, Option<NaiveDate>),
}

impl Store {
    /// Does something with every job of which something was counted from one day up to another, and
    /// with every order that is out today; all is read as of one moment, one job in memory.
    ///
    /// # Errors
    /// [`StoreError`] of the file, and what is done with a job.
    pub fn each_counted<E: From<StoreError>>(
        &self,
        (from, to): (NaiveDate, NaiveDate),
        mut with: impl FnMut(Counted) -> Result<(), E>,
    ) -> Result<(), E> {
        let moment = Transaction::new_unchecked(&self.connection, TransactionBehavior::Deferred)
            .map_err(StoreError::from)?;
        each_job(&moment, from, to, &mut with)?;
        each_out(&moment, &mut with)
    }
}

fn each_job<E: From<StoreError>>(
    c: &Connection,
    from: NaiveDate,
    to: NaiveDate,
    with: &mut impl FnMut(Counted) -> Result<(), E>,
) -> Result<(), E> {
    let mut statement = c.prepare(&counted_jobs()).map_err(StoreError::from)?;
    // A time sorts after its day alone: whole days are compared by their text.
    let mut ids = statement
        .query([from.to_string(), to.to_string()])
        .map_err(StoreError::from)?;
    while let Some(id) = ids.next().map_err(StoreError::from)? {
        let id: i64 = id.get(0).map_err(StoreError::from)?;
        if let Some(row) = counted(c, id)? {
            with(Counted::Job(Box::new(row)))?;
        }
    }
    Ok(())
}

/// The queries that find what is counted, by name, for tests of the indices.
pub fn counting_queries() -> [(&'static str, String); 2] {
    [
        ("counted in a time", counted_jobs()),
        ("orders out", orders_out().to_owned()),
    ]
}

/// The query of the jobs of which something was counted in a time.
fn counted_jobs() -> String {
    format!(
        "SELECT DISTINCT job_id FROM history
         WHERE {COUNTED} AND at >= ?1 AND at < ?2 AND job_id IS NOT NULL ORDER BY job_id"
    )
}

/// The query of the orders that are out today.
const fn orders_out() -> &'static str {
    "SELECT content ->> '$.order.laboratory', due_on FROM job
     WHERE past = 0 AND stage IN ('measured', 'ordered', 'verified') AND stage = 'ordered'"
}

fn each_out<E: From<StoreError>>(
    c: &Connection,
    with: &mut impl FnMut(Counted) -> Result<(), E>,
) -> Result<(), E> {
    let mut statement = c.prepare(orders_out()).map_err(StoreError::from)?;
    let mut rows = statement.query([]).map_err(StoreError::from)?;
    while let Some(row) = rows.next().map_err(StoreError::from)? {
        let laboratory: Option<String> = row.get(0).map_err(StoreError::from)?;
        let due: Option<String> = row.get(1).map_err(StoreError::from)?;
        with(Counted::Out(laboratory, due.and_then(|d| d.parse().ok())))?;
    }
    Ok(())
}

/// Reads one job; `None` when it was erased.
fn counted(c: &Connection, id: i64) -> Result<Option<CountedRow>, StoreError> {
    let content: Option<String> = c
        .prepare_cached("SELECT content FROM job WHERE id = ?1")?
        .query_row([id], |r| r.get(0))
        .optional()?;
    let Some(content) = content else {
        return Ok(None);
    };
    let job = row::job_from(&content)?;
    let ordered: Option<String> = c
        .prepare_cached(
            "SELECT content FROM passed WHERE job_id = ?1 AND gate = 'ordered' ORDER BY id LIMIT 1",
        )?
        .query_row([id], |r| r.get(0))
        .optional()?;
    let read_on: Option<Option<String>> = c
        .prepare_cached(
            "SELECT content ->> '$.readings.taken_on' FROM passed
             WHERE job_id = ?1 AND gate = 'verified' ORDER BY id LIMIT 1",
        )?
        .query_row([id], |r| r.get(0))
        .optional()?;
    let follows_past: Option<bool> = match &job.linked_to {
        Some(number) => c
            .prepare_cached("SELECT past FROM job WHERE number = ?1")?
            .query_row([number], |r| r.get(0))
            .optional()?,
        None => None,
    };
    Ok(Some(CountedRow {
        ordered: ordered.map(|o| row::job_from(&o)).transpose()?,
        read_on: read_on.flatten().and_then(|d| d.parse().ok()),
        follows_past: follows_past.unwrap_or(false),
        events: events(c, id)?,
        job,
    }))
}

fn events(c: &Connection, id: i64) -> Result<Vec<(NaiveDateTime, String, Value)>, StoreError> {
    let mut statement = c.prepare_cached(&format!(
        "SELECT h.at, h.what, CASE WHEN h.{COUNTED} THEN d.detail END
         FROM history h LEFT JOIN history_detail d ON d.id = h.id WHERE h.job_id = ?1 ORDER BY h.id"
    ))?;
    let rows = statement.query_map(params![id], |r| {
        Ok((
            r.get::<_, String>(0)?,
            r.get(1)?,
            r.get::<_, Option<String>>(2)?,
        ))
    })?;
    rows.map(|row| {
        let (at, what, detail) = row?;
        let at = local_time(&at).ok_or(StoreError::Content("a time"))?;
        let detail = match detail {
            Some(text) => {
                serde_json::from_str(&text).map_err(|_| StoreError::Content("an event"))?
            }
            None => Value::Null,
        };
        Ok((at, what, detail))
    })
    .collect()
}
