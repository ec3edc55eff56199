//! Examining and repairing the file itself, for `doctor`.

use chrono::NaiveDateTime;

use super::book::{Store, Write};
use super::error::StoreError;
use super::history::RESTORED;
use super::integrity::{self, Integrity, SearchIndex};

impl Store {
    /// Asks SQLite whether the file is whole.
    ///
    /// # Errors
    /// [`StoreError`] when it cannot be read at all.
    pub fn integrity(&self) -> Result<Integrity, StoreError> {
        integrity::integrity(&self.connection)
    }

    /// Compares the search index with the jobs, and with itself.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn search_index(&self) -> Result<SearchIndex, StoreError> {
        integrity::search_index(&self.connection)
    }

    /// Returns the numbers of the jobs whose content cannot be read.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn unreadable_jobs(&self) -> Result<Vec<String>, StoreError> {
        integrity::unreadable_jobs(&self.connection)
    }

    /// Returns the latest time of all history.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn latest_entry(&self) -> Result<Option<NaiveDateTime>, StoreError> {
        let latest: Option<String> =
            self.connection
                .query_row("SELECT max(at) FROM history", [], |r| r.get(0))?;
        Ok(latest.and_then(|t| t.parse().ok()))
    }

    /// Returns the number of jobs whose erasure was interrupted.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn unfinished_erasures(&self) -> Result<usize, StoreError> {
        let rows: i64 = self
            .connection
            .query_row("SELECT count(*) FROM erasing", [], |r| r.get(0))?;
        Ok(usize::try_from(rows).unwrap_or(0))
    }

    /// Returns the time of the last restore.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn restored_at(&self) -> Result<Option<NaiveDateTime>, StoreError> {
        let at: Option<String> = self.connection.query_row(
            "SELECT max(at) FROM history WHERE job_id IS NULL AND what = ?1",
            [RESTORED],
            |r| r.get(0),
        )?;
        Ok(at.and_then(|t| t.parse().ok()))
    }
}

impl Write<'_> {
    /// Rebuilds the search index from the jobs; no earlier content remains in it.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn rebuild_search(&self) -> Result<(), StoreError> {
        integrity::rebuild_search(&self.transaction)
    }

    /// Clears the marks of interrupted erasures.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn clear_erasing(&self) -> Result<(), StoreError> {
        self.transaction.execute("DELETE FROM erasing", [])?;
        Ok(())
    }
}

/// Version of SQLite, and whether it is free of the WAL reset fault.
pub(crate) fn library() -> (&'static str, bool) {
    (rusqlite::version(), super::open::library_is_sound())
}
