//! Examining and repairing the file itself, for `doctor`.

use chrono::NaiveDateTime;

use super::book::{Store, Write};
use super::error::StoreError;
use super::every_row::{self, Unreadable};
use super::history::RESTORED;
use super::integrity::{self, Integrity, SearchIndex};
use super::lists::{self, ShownWrongly};
use super::tables::{self, Tables};
use super::times::local_time;

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

    /// Compares tables, indices and triggers with those of a new book.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn tables(&self) -> Result<Tables, StoreError> {
        tables::compare(&self.connection)
    }

    /// Returns the jobs whose rows do not show in lists what the jobs hold.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn shown_wrongly(&self) -> Result<Vec<ShownWrongly>, StoreError> {
        lists::shown_wrongly(&self.connection)
    }

    /// Returns the numbers of jobs that are said to be held although no gate lies ahead of them.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn held_without_a_gate(&self) -> Result<Vec<String>, StoreError> {
        lists::held_without_a_gate(&self.connection)
    }

    /// Returns the rows of all tables that cannot be read.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn unreadable(&self) -> Result<Vec<Unreadable>, StoreError> {
        every_row::unreadable(&self.connection)
    }

    /// Returns the latest time of all history.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn latest_entry(&self) -> Result<Option<NaiveDateTime>, StoreError> {
        let latest: Option<String> =
            self.connection
                .query_row("SELECT max(at) FROM history", [], |r| r.get(0))?;
        Ok(latest.as_deref().and_then(local_time))
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
        Ok(at.as_deref().and_then(local_time))
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

    /// Makes missing indices and triggers again; returns which.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn make_missing_tables(&self) -> Result<Vec<String>, StoreError> {
        tables::make_missing(&self.transaction)
    }

    /// Writes again what lists show of the jobs where it is not what the jobs hold, and has what holds
    /// them judged again; returns the numbers of those jobs.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn show_rightly(&self) -> Result<Vec<String>, StoreError> {
        let mended = lists::show_rightly(&self.transaction)?;
        lists::judge_again(&self.transaction)?;
        Ok(mended)
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
    (rusqlite::version(), super::connection::library_is_sound())
}
