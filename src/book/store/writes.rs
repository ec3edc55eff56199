//! What a write reads and changes: jobs, acceptances, passed gates, people, settings, drafts.

use chrono::NaiveDate;
use rusqlite::params;

use super::book::Write;
use super::error::StoreError;
use super::holding_checks::Held;
use super::row::{self, JobRow, RowExtras};
use super::{same_wearer, settings};
use crate::job::{Gate, Job, StaffMember, StaffRoll};
use crate::judge::gate::{Acceptance, Passed};
use crate::practice::Practice;

/// Refuses a row that was not kept although nothing said so, as a trigger of somebody else's does.
fn kept(rows: usize) -> Result<(), StoreError> {
    if rows == 1 {
        Ok(())
    } else {
        Err(StoreError::NotKept)
    }
}

impl Write<'_> {
    /// Reads a job inside the write, to change it; refuses one that is not at the expected revision.
    ///
    /// # Errors
    /// [`StoreError::Stale`] when somebody else changed it; [`StoreError::NotAsHistory`] when it was
    /// changed past the program: the next event would bind that change as if it had been kept.
    pub fn job(&self, number: &str, expected: Option<i64>) -> Result<JobRow, StoreError> {
        let row = row::find(&self.transaction, number)?;
        if expected.is_some_and(|e| e != row.revision) {
            return Err(StoreError::Stale(number.to_owned()));
        }
        if !self.is_known(row.id) {
            self.is_as_history(row.id, number)?;
        }
        Ok(row)
    }

    /// Reads a job inside the write that is only looked at.
    ///
    /// # Errors
    /// [`StoreError::NoJob`].
    pub fn job_to_look_at(&self, number: &str) -> Result<JobRow, StoreError> {
        row::find(&self.transaction, number)
    }

    /// Returns the staff list inside this write.
    pub fn staff(&self) -> Result<StaffRoll, StoreError> {
        settings::staff(&self.transaction)
    }

    /// Returns the practice's settings inside this write.
    pub fn practice(&self) -> Result<Practice, StoreError> {
        settings::practice(&self.transaction)
    }

    /// Returns the same wearer's other jobs inside this write, newest first.
    pub fn others(&self, id: i64, job: &Job, limit: i64) -> Result<Vec<Job>, StoreError> {
        same_wearer::others(&self.transaction, id, job, limit)
    }

    /// Stores a job with the next revision.
    ///
    /// What holds the other open jobs of its wearer, the one before and the one after the change,
    /// is judged again when they are next listed.
    pub fn put(&self, row: &JobRow, extras: RowExtras<'_>) -> Result<(), StoreError> {
        if !row::is_same_wearer(&self.transaction, row.id, &row.job)? {
            row::forget_held_of_wearer(&self.transaction, row.id)?;
        }
        row::write(
            &self.transaction,
            row.id,
            &row.number,
            &row.job,
            row.revision + 1,
            extras,
        )?;
        row::forget_held_of_wearer(&self.transaction, row.id)
    }

    /// Adds a job; gives it the next number unless it has one.
    ///
    /// # Errors
    /// [`StoreError::NumberTaken`], [`StoreError::NumberErased`].
    pub fn add(&self, job: &mut Job, extras: RowExtras<'_>) -> Result<JobRow, StoreError> {
        let id: i64 =
            // Never an id that an erased job had: its history would become this one's.
            self.transaction.query_row(
                "SELECT max(coalesce((SELECT max(id) FROM job), 0), coalesce((SELECT max(job_id) FROM history), 0)) + 1",
                [],
                |r| r.get(0),
            )?;
        let number = match job.number.clone() {
            Some(number) => number,
            None => self.free_number(id)?,
        };
        if self.number_taken(&number)? {
            return Err(StoreError::NumberTaken(number));
        }
        if self.number_erased(&number)? {
            return Err(StoreError::NumberErased(number));
        }
        job.number = Some(number.clone());
        row::write(&self.transaction, id, &number, job, 1, extras)?;
        self.now_known(id);
        row::forget_held_of_wearer(&self.transaction, id)?;
        Ok(JobRow {
            id,
            number,
            revision: 1,
            job: job.clone(),
            questions: Vec::new(),
        })
    }

    fn number_taken(&self, number: &str) -> Result<bool, StoreError> {
        Ok(self
            .transaction
            .prepare_cached("SELECT 1 FROM job WHERE number = ?1")?
            .exists([number])?)
    }

    fn free_number(&self, id: i64) -> Result<String, StoreError> {
        let mut candidate = 1000 + id;
        while self.number_taken(&candidate.to_string())?
            || self.number_erased(&candidate.to_string())?
        {
            candidate += 1;
        }
        Ok(candidate.to_string())
    }

    /// Returns the acceptances of a job, oldest first.
    pub fn acceptances(&self, id: i64) -> Result<Vec<Acceptance>, StoreError> {
        row::acceptances(&self.transaction, id)
    }

    /// Returns the gates a job has passed in this round.
    pub fn passed(&self, id: i64) -> Result<Vec<Passed>, StoreError> {
        row::passed(&self.transaction, id)
    }

    /// Stores an acceptance; acceptances are never changed.
    pub fn accept(&self, id: i64, acceptance: &Acceptance) -> Result<(), StoreError> {
        let content =
            serde_json::to_string(acceptance).map_err(|_| StoreError::Content("an acceptance"))?;
        kept(
            self.transaction
                .prepare_cached("INSERT INTO acceptance (job_id, content) VALUES (?1, ?2)")?
                .execute(params![id, content])?,
        )
    }

    /// Stores a snapshot of the job as it passed a gate.
    pub fn pass(&self, id: i64, gate: Gate, job: &Job) -> Result<(), StoreError> {
        kept(
            self.transaction
                .prepare_cached(
                    "INSERT INTO passed (job_id, gate, stands, content) VALUES (?1, ?2, 1, ?3)",
                )?
                .execute(params![id, gate.word(), row::content_of(job)?])?,
        )
    }

    /// Marks a gate as not passed in the present round.
    pub fn fall_back(&self, id: i64, gate: Gate) -> Result<(), StoreError> {
        self.transaction
            .prepare_cached("UPDATE passed SET stands = 0 WHERE job_id = ?1 AND gate = ?2")?
            .execute(params![id, gate.word()])?;
        Ok(())
    }

    /// Stores which checks hold a job; no revision, no event: the job itself is unchanged.
    pub fn note_held(&self, number: &str, held: &Held, on: NaiveDate) -> Result<(), StoreError> {
        self.transaction
            .prepare_cached("UPDATE job SET held = ?2, held_on = ?3 WHERE number = ?1")?
            .execute(params![number, held.as_kept(), on.to_string()])?;
        Ok(())
    }

    /// Adds a person; one of the same name is replaced. What holds each open job is worked out
    /// again when it is next listed.
    pub fn add_staff(&self, member: &StaffMember) -> Result<(), StoreError> {
        self.changes_practice()?;
        let content = serde_json::to_string(member).map_err(|_| StoreError::Content("a person"))?;
        self.transaction.execute(
            "INSERT INTO staff (name, content) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET content = excluded.content",
            params![member.name, content],
        )?;
        row::forget_held(&self.transaction)
    }

    /// Marks what holds every open job as out of date: each is judged again when it is next listed.
    pub fn forget_held(&self) -> Result<(), StoreError> {
        row::forget_held(&self.transaction)
    }

    /// Stores the practice's settings. Each open job is judged again when it is next
    /// listed.
    pub fn set_practice(&self, practice: &Practice) -> Result<(), StoreError> {
        self.changes_practice()?;
        let content =
            serde_json::to_string(practice).map_err(|_| StoreError::Content("a setting"))?;
        self.transaction.execute(
            "INSERT INTO setting (name, content) VALUES ('practice', ?1) ON CONFLICT (name) DO UPDATE SET content = excluded.content",
            [content],
        )?;
        row::forget_held(&self.transaction)
    }

    /// Stores the unfinished text that somebody types into a field; `None` removes it. An empty name is
    /// of whoever was not known.
    pub fn draft(
        &self,
        number: &str,
        field: &str,
        by: &str,
        text: Option<&str>,
    ) -> Result<(), StoreError> {
        match text {
            Some(text) => self
                .transaction
                .prepare_cached(
                    "INSERT INTO draft (job_id, field, by, text) SELECT id, ?2, ?3, ?4 FROM job WHERE number = ?1
                     ON CONFLICT (job_id, field, by) DO UPDATE SET text = excluded.text",
                )?
                .execute(params![number, field, by, text])?,
            None => self
                .transaction
                .prepare_cached("DELETE FROM draft WHERE field = ?2 AND by IN (?3, '') AND job_id = (SELECT id FROM job WHERE number = ?1)")?
                .execute(params![number, field, by])?,
        };
        Ok(())
    }
}
