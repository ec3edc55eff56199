//! Erasing jobs.
//!
//! Rows are deleted with `secure_delete`, the search index is rebuilt, the file is then rewritten
//! and its log emptied: `secure_delete` alone overwrites what is freed, but not what a page that was
//! split or joined may keep in its gaps.

use chrono::NaiveDate;
use rusqlite::params;

use super::book::{Store, Write};
use super::chain::ACCESS_GIVEN;
use super::error::StoreError;
use super::row::{job_from, wearer_key};
use super::settings::{ERASED_NUMBERS, SWEEP_DUE};
use crate::job::Job;

/// Number, wearer and dates of a job, for erasing and retention.
#[derive(Debug, Clone, PartialEq)]
pub struct WearerRow {
    /// Row id.
    pub id: i64,
    /// Number.
    pub number: String,
    /// The form of the name under which the same wearer is found again.
    pub key: String,
    /// The job.
    pub job: Job,
    /// Day of the newest entry of its history.
    pub last_entry: Option<NaiveDate>,
}

/// How much of a job was erased.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Gone {
    /// Contents of history.
    pub entries: usize,
    /// Acceptances.
    pub acceptances: usize,
    /// Number of unfinished texts.
    pub drafts: usize,
}

const EVERY: &str = "SELECT id, number, wearer_key, content,
    (SELECT max(substr(at, 1, 10)) FROM history WHERE job_id = job.id AND what <> ?1)
    FROM job ORDER BY id";

fn every(c: &rusqlite::Connection) -> Result<Vec<WearerRow>, StoreError> {
    let mut statement = c.prepare_cached(EVERY)?;
    let mut rows = statement.query([ACCESS_GIVEN])?;
    let mut out = Vec::new();
    while let Some(r) = rows.next()? {
        out.push(WearerRow {
            id: r.get(0)?,
            number: r.get(1)?,
            key: r.get(2)?,
            job: job_from(&r.get::<_, String>(3)?)?,
            last_entry: r.get::<_, Option<String>>(4)?.and_then(|t| t.parse().ok()),
        });
    }
    Ok(out)
}

/// The form of a name under which the same wearer is found again.
pub(crate) fn key_of(name: &str) -> String {
    wearer_key(name)
}

impl Store {
    /// Returns every job with its wearer, in the order in which they were begun.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn every_job(&self) -> Result<Vec<WearerRow>, StoreError> {
        every(&self.connection)
    }

    /// Rewrites the file without what was erased and empties its log. Returns whether it was done:
    /// it is not while another process reads or writes.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn sweep(&self) -> Result<bool, StoreError> {
        // The copy made on the way must not be a file in the temporary directory.
        self.connection
            .pragma_update(None, "temp_store", "memory")?;
        match self
            .connection
            .execute_batch("VACUUM")
            .map_err(StoreError::from)
        {
            Ok(()) => {}
            Err(StoreError::Busy) => return Ok(false),
            Err(e) => return Err(e),
        }
        let busy: i64 = self
            .connection
            .query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |r| r.get(0))?;
        if busy == 0 {
            self.connection
                .execute("DELETE FROM setting WHERE name = ?1", [SWEEP_DUE])?;
        }
        Ok(busy == 0)
    }

    /// Whether something was erased and the file has not been swept since: another process was in
    /// the way, or this one ended in between.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn sweep_is_due(&self) -> Result<bool, StoreError> {
        Ok(self.setting(SWEEP_DUE)?.unwrap_or(false))
    }
}

impl Write<'_> {
    /// Returns every job with its wearer as this write finds them.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn every_job(&self) -> Result<Vec<WearerRow>, StoreError> {
        every(&self.transaction)
    }

    /// Erases a job: its row, its search entry, who has what, its acceptances, the jobs as they
    /// passed the gates, its unfinished texts, and the contents of its history. The rows of history
    /// stay, without content, so that the chain stays complete.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn erase(&self, id: i64, number: &str, keep_number: bool) -> Result<Gone, StoreError> {
        let t = &self.transaction;
        super::row::forget_held_of_wearer(t, id)?;
        t.execute("INSERT INTO erasing (job_id) VALUES (?1)", [id])?;
        let gone = Gone {
            entries: t.execute(
                "DELETE FROM history_detail WHERE id IN (SELECT id FROM history WHERE job_id = ?1)",
                [id],
            )?,
            acceptances: t.execute("DELETE FROM acceptance WHERE job_id = ?1", [id])?,
            drafts: t.execute("DELETE FROM draft WHERE job_id = ?1", [id])?,
        };
        t.execute("DELETE FROM passed WHERE job_id = ?1", [id])?;
        t.execute("DELETE FROM job_search WHERE rowid = ?1", [id])?;
        super::made::erase(t, id)?;
        t.execute("DELETE FROM job WHERE id = ?1", [id])?;
        self.set_setting(SWEEP_DUE, &true)?;
        t.execute("DELETE FROM erasing", [])?;
        if keep_number {
            let mut numbers: Vec<String> = self.setting(ERASED_NUMBERS)?.unwrap_or_default();
            numbers.push(number.to_owned());
            self.set_setting(ERASED_NUMBERS, &numbers)?;
        }
        Ok(gone)
    }

    /// Erases the contents of some entries of a job's history; the job stays.
    ///
    /// The caller adds the event that names them, [`super::chain::ENTRIES_ERASED`].
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn erase_entries(&self, id: i64, entries: &[i64]) -> Result<(), StoreError> {
        let t = &self.transaction;
        t.execute("INSERT INTO erasing (job_id) VALUES (?1)", [id])?;
        for entry in entries {
            t.execute(
                "DELETE FROM history_detail WHERE id = ?1 AND id IN (SELECT id FROM history WHERE job_id = ?2)",
                params![entry, id],
            )?;
        }
        t.execute("DELETE FROM erasing", [])?;
        Ok(())
    }

    /// Returns the contents of a job's history with the ids of their entries, oldest first.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn contents(&self, id: i64) -> Result<Vec<(i64, String)>, StoreError> {
        let mut statement = self.transaction.prepare_cached(
            "SELECT d.id, d.detail FROM history h JOIN history_detail d ON d.id = h.id
             WHERE h.job_id = ?1 ORDER BY d.id",
        )?;
        let rows = statement.query_map([id], |r| Ok((r.get(0)?, r.get(1)?)))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Whether an erased job had this number.
    pub(super) fn number_erased(&self, number: &str) -> Result<bool, StoreError> {
        Ok(self
            .transaction
            .prepare_cached(
                "SELECT 1 FROM setting s, json_each(s.content) n WHERE s.name = ?1 AND n.value = ?2",
            )?
            .exists([ERASED_NUMBERS, number])?)
    }
}
