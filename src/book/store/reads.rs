//! Reading jobs, lists, people and settings; each call is one statement.

use chrono::NaiveDate;
use rusqlite::params;

use super::book::Store;
use super::error::StoreError;
use super::recall::{self, Made};
use super::row::{self, JobRow, LineRow};
use super::{same_wearer, search, settings};
use crate::job::{Job, StaffRoll, Stage};
use crate::judge::gate::{Acceptance, Passed};
use crate::practice::Practice;

/// A page of the numbers of a book.
pub(super) const NUMBERS: &str =
    "SELECT id, number FROM job WHERE id < ?1 ORDER BY id DESC LIMIT ?2";

/// The unfinished texts of a job.
pub(super) const DRAFTS: &str =
    "SELECT field, text, by FROM draft WHERE job_id = ?1 ORDER BY field, by";

/// The query of the worklist.
pub(super) fn open_lines() -> String {
    format!(
        "SELECT {} FROM job WHERE past = 0 AND stage IN ('measured', 'ordered', 'verified') ORDER BY stage, due_on, id",
        row::LINE
    )
}

/// The query of a page of the jobs of a stage.
pub(super) fn lines_before() -> String {
    format!(
        "SELECT {}, id FROM job WHERE stage = ?1 AND id < ?2 ORDER BY id DESC LIMIT ?3",
        row::LINE
    )
}

/// The query of the collected jobs of a day, one index for each of its dates.
pub(super) fn collected_on() -> String {
    format!(
        "SELECT {} FROM job WHERE id IN (
             SELECT id FROM job WHERE stage = 'collected' AND content ->> '$.handover.given_on' = ?1
             UNION SELECT id FROM job WHERE stage = 'collected' AND substr(collection_at, 1, 10) = ?1
             UNION SELECT id FROM job WHERE stage = 'collected' AND promised_on = ?1
             UNION SELECT id FROM job WHERE stage = 'collected' AND due_on = ?1)
         ORDER BY id DESC",
        row::LINE
    )
}

impl Store {
    /// Reads a job.
    pub fn job(&self, number: &str) -> Result<JobRow, StoreError> {
        row::find(&self.connection, number)
    }

    /// Returns the id of a job, without reading the job.
    ///
    /// # Errors
    /// [`StoreError::NoJob`].
    pub fn id_of(&self, number: &str) -> Result<i64, StoreError> {
        row::id_of(&self.connection, number)
    }

    /// Returns the acceptances of a job, oldest first.
    pub fn acceptances(&self, id: i64) -> Result<Vec<Acceptance>, StoreError> {
        row::acceptances(&self.connection, id)
    }

    /// Returns the gates a job has passed in this round.
    pub fn passed(&self, id: i64) -> Result<Vec<Passed>, StoreError> {
        row::passed(&self.connection, id)
    }

    /// Returns the same wearer's other jobs, newest first.
    pub fn others(&self, id: i64, job: &Job, limit: i64) -> Result<Vec<Job>, StoreError> {
        same_wearer::others(&self.connection, id, job, limit)
    }

    /// Returns the open jobs, by stage, due date and number.
    pub fn open_lines(&self) -> Result<Vec<LineRow>, StoreError> {
        self.lines(&open_lines(), &[])
    }

    /// Returns the jobs of one stage older than an id, newest first, each with its id: a page of a
    /// list that may be the whole book.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn lines_before(
        &self,
        stage: Stage,
        id: i64,
        limit: usize,
    ) -> Result<Vec<(i64, LineRow)>, StoreError> {
        let mut statement = self.connection.prepare_cached(&lines_before())?;
        let limit = i64::try_from(limit).unwrap_or(i64::MAX);
        let rows = statement.query_map(params![stage.word(), id, limit], |r| {
            Ok((r.get(row::LINE_COLUMNS)?, row::line(r)?))
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Returns the collected jobs that were handed over, to be collected, promised or due on a day,
    /// newest first.
    pub fn collected_on(&self, day: NaiveDate) -> Result<Vec<LineRow>, StoreError> {
        self.lines(&collected_on(), &[&day.to_string()])
    }

    /// Returns the numbers of jobs older than an id, newest first, each with its id: a whole book
    /// is read in pages of these, so that it is never all in memory.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn numbers_before(&self, id: i64, limit: usize) -> Result<Vec<(i64, String)>, StoreError> {
        let mut statement = self.connection.prepare_cached(NUMBERS)?;
        let limit = i64::try_from(limit).unwrap_or(i64::MAX);
        let rows = statement.query_map(params![id, limit], |r| Ok((r.get(0)?, r.get(1)?)))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    fn lines(&self, sql: &str, with: &[&dyn rusqlite::ToSql]) -> Result<Vec<LineRow>, StoreError> {
        let mut statement = self.connection.prepare_cached(sql)?;
        let rows = statement.query_map(with, row::line)?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Returns the jobs that text finds.
    pub fn find(&self, text: &str, limit: usize) -> Result<Vec<LineRow>, StoreError> {
        search::find(&self.connection, text, limit)
    }

    /// Returns the jobs whose frame or one of whose lenses is what is looked for, newest first.
    pub fn find_made(&self, made: &Made) -> Result<Vec<LineRow>, StoreError> {
        recall::find(&self.connection, made)
    }

    /// Returns the staff list.
    pub fn staff(&self) -> Result<StaffRoll, StoreError> {
        settings::staff(&self.connection)
    }

    /// Returns the practice's settings.
    pub fn practice(&self) -> Result<Practice, StoreError> {
        settings::practice(&self.connection)
    }

    /// Returns the unfinished texts of a job: path of the field, text, and who typed it, empty where
    /// nobody is known.
    pub fn drafts(&self, id: i64) -> Result<Vec<(String, String, String)>, StoreError> {
        let mut statement = self.connection.prepare_cached(DRAFTS)?;
        let rows = statement.query_map([id], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?)))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }
}
