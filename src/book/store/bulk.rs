//! Adding thousands of invented jobs at once, to a new demo book.
//!
//! What the desk does job by job is done here for thousands in one transaction: the same rows, the
//! same chain of history and the same search entries, with the head of the chain kept in memory
//! and the search index put in order once at the end. It judges nothing, so nothing but an
//! invented book may be written through it; each job's history says so.

use chrono::{NaiveDate, NaiveDateTime};
use rusqlite::Transaction;

use super::book::{Store, Write};
use super::chain::{self, Head, HistoryEntry};
use super::error::StoreError;
use super::holding_checks::Held;
use super::row::{self, RowExtras};
use super::standing::Binds;
use super::times::AT;
use crate::job::{Gate, Job};

/// Page cache while a book is filled, KiB: large enough for the indices of names.
const CACHE_KIB: i64 = 24 * 1024;

/// One event of an invented job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct BulkEvent {
    /// When.
    pub at: NaiveDateTime,
    /// Who; `None` for the program itself.
    pub by: Option<String>,
    /// What.
    pub what: &'static str,
    /// The content, as JSON text.
    pub detail: String,
}

/// An invented job with its invented past.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct BulkJob {
    /// The job, with its number.
    pub job: Job,
    /// The job at each gate it passed, oldest first.
    pub passed: Vec<(Gate, Job)>,
    /// Its history, oldest first; the newest event is bound to the present job.
    pub events: Vec<BulkEvent>,
}

/// A job with its stored texts: one thread prepares it, another writes it.
#[derive(Debug)]
pub struct Prepared {
    number: String,
    job: Job,
    content: String,
    passed: Vec<(Gate, String)>,
    events: Vec<BulkEvent>,
}

/// Makes the texts under which a job is stored.
///
/// # Errors
/// [`StoreError::Content`] when a job cannot be written as JSON.
pub(crate) fn prepare(bulk: BulkJob) -> Result<Prepared, StoreError> {
    Ok(Prepared {
        number: bulk.job.number.clone().unwrap_or_default(),
        content: row::content_of(&bulk.job)?,
        passed: bulk
            .passed
            .iter()
            .map(|(gate, job)| Ok((*gate, row::content_of(job)?)))
            .collect::<Result<_, StoreError>>()?,
        job: bulk.job,
        events: bulk.events,
    })
}

impl Store {
    /// Prepares the connection for adding many jobs.
    ///
    /// # Errors
    /// [`StoreError`] of the file; [`StoreError::Exists`] for a book that holds jobs already.
    pub fn begin_bulk(&self) -> Result<(), StoreError> {
        let is_empty: bool =
            self.connection
                .query_row("SELECT NOT EXISTS (SELECT 1 FROM job)", [], |r| r.get(0))?;
        if !is_empty {
            let path = self.path().unwrap_or_default();
            return Err(StoreError::Exists(path.display().to_string()));
        }
        self.connection
            .pragma_update(None, "cache_size", -CACHE_KIB)?;
        // An incomplete invented book has no value, so safety against a crash is not needed.
        self.connection
            .pragma_update(None, "synchronous", "NORMAL")?;
        self.connection.execute_batch(
            "INSERT INTO job_search (job_search, rank) VALUES ('automerge', 8);
             INSERT INTO job_search (job_search, rank) VALUES ('hashsize', 8388608);",
        )?;
        Ok(())
    }

    /// Puts the search index in order, and everything on the disk.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn end_bulk(&self) -> Result<(), StoreError> {
        self.connection.execute_batch(
            "INSERT INTO job_search (job_search, rank) VALUES ('automerge', 4);
             INSERT INTO job_search (job_search, rank) VALUES ('hashsize', 1048576);
             INSERT INTO job_search (job_search) VALUES ('optimize');",
        )?;
        self.connection.pragma_update(None, "synchronous", "FULL")?;
        self.connection
            .query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()))?;
        self.connection.pragma_update(None, "cache_size", -2000)?;
        Ok(())
    }
}

impl Write<'_> {
    /// Enters invented jobs, numbered on from `first`; what holds the open ones is worked out when
    /// they are first listed. Returns the id after the last.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn enter_invented(&self, jobs: &[Prepared], first: i64) -> Result<i64, StoreError> {
        let t: &Transaction<'_> = &self.transaction;
        let mut head = chain::head(t)?;
        let mut id = first;
        for job in jobs {
            enter(t, id, job, &mut head)?;
            id += 1;
        }
        Ok(id)
    }
}

fn enter(t: &Transaction<'_>, id: i64, job: &Prepared, head: &mut Head) -> Result<(), StoreError> {
    let extras = RowExtras {
        held: &Held::default(),
        // Not judged yet: older than any day.
        held_on: NaiveDate::from_ymd_opt(1, 1, 1).unwrap_or_default(),
        questions: &[],
    };
    let revision = i64::try_from(job.events.len()).unwrap_or(i64::MAX).max(1);
    row::insert(t, id, &job.number, &job.job, revision, extras, &job.content)?;
    for (gate, content) in &job.passed {
        t.prepare_cached(
            "INSERT INTO passed (job_id, gate, stands, content) VALUES (?1, ?2, 1, ?3)",
        )?
        .execute(rusqlite::params![id, gate.word(), content])?;
    }
    let last = job.events.len().saturating_sub(1);
    for (n, event) in job.events.iter().enumerate() {
        let at = event.at.format(AT).to_string();
        let entry = HistoryEntry {
            job_id: Some(id),
            at: &at,
            by: event.by.as_deref(),
            what: event.what,
            detail: &event.detail,
        };
        // The states in between were never stored.
        let binds = if n == last {
            Binds::Job(id)
        } else {
            Binds::Nothing
        };
        *head = chain::append_to(t, *head, &entry, binds)?;
    }
    Ok(())
}
