//! The book's file: the only place that knows SQL.
//!
//! One connection a process. Reads finish their statement before anything is drawn; every write is
//! one `BEGIN IMMEDIATE` transaction that holds the row, its search entry and its history event
//! together, and is on the disk when it returns. A transaction that is dropped changes nothing.

mod appointments;
mod around;
mod backup;
pub mod bulk;
pub mod chain;
mod check;
mod credential;
pub mod disk;
mod doctor;
#[cfg(feature = "encrypted")]
pub mod encrypt;
mod erase;
mod error;
mod figures;
mod header;
mod held;
mod history;
pub mod key;
#[cfg(feature = "encrypted")]
pub mod keyring;
mod open;
mod queries;
mod restore;
mod row;
mod search;
mod sent_back;
mod used;

use std::path::Path;
use std::time::Duration;

use chrono::NaiveDate;
use rusqlite::{Connection, Transaction, TransactionBehavior, params};

pub use backup::{Copied, Head, Keep, LastBackup, OwnBackup, SIDE_FILES, UNFINISHED, moment_of};
pub use check::{Integrity, SearchIndex};
pub use credential::Credential;
pub use doctor::library;
pub use erase::{Gone, WearerRow, key_of};
pub use error::StoreError;
pub use figures::{Counted, CountedRow, counting_queries};
pub use held::Held;
pub use history::{EventRow, What};
pub use open::{APPLICATION_ID, newest_version};
pub use queries::queries;
pub use restore::{Prepared, Restored};
pub use row::{Beside, JobRow, LineRow};
pub use search::expression;

use crate::gate::{Acceptance, Passed, Practice};
use crate::job::{Gate, Job, StaffMember, StaffRoll, Stage};
use key::Key;

/// The event that putting a backup back leaves.
pub const RESTORED: &str = "restored";

/// The book's file.
#[derive(Debug)]
pub struct Store {
    connection: Connection,
    /// The key of an encrypted book.
    key: Option<Key>,
}

/// Returns the key of an encrypted book that a passphrase, or the recovery code, opens.
///
/// # Errors
/// [`StoreError::WrongPassphrase`]; [`StoreError::NoCipher`] in a build that cannot decrypt.
pub fn key_opened_by(book: &Path, passphrase: &str) -> Result<Key, StoreError> {
    #[cfg(feature = "encrypted")]
    return keyring::Keyring::beside(book)?
        .open(passphrase)
        .map(|(_, key)| key)
        .ok_or(StoreError::WrongPassphrase);
    #[cfg(not(feature = "encrypted"))]
    {
        let _ = (book, passphrase);
        Err(StoreError::NoCipher)
    }
}

/// A write in progress.
#[derive(Debug)]
pub struct Write<'a> {
    transaction: Transaction<'a>,
}

impl Store {
    /// Opens a book.
    ///
    /// # Errors
    /// [`StoreError`]; the file is then untouched.
    pub fn open(path: &Path) -> Result<Self, StoreError> {
        Ok(Self {
            connection: open::open(path, None)?,
            key: None,
        })
    }

    /// Opens an encrypted book.
    ///
    /// # Errors
    /// As [`Store::open`], and [`StoreError::NoCipher`] in a build that cannot decrypt.
    pub fn open_with(path: &Path, key: Key) -> Result<Self, StoreError> {
        Ok(Self {
            connection: open::open(path, Some(&key))?,
            key: Some(key),
        })
    }

    /// Returns where the book's file is.
    pub fn path(&self) -> Option<std::path::PathBuf> {
        self.connection.path().map(std::path::PathBuf::from)
    }

    /// Returns the key of an encrypted book.
    pub fn key(&self) -> Option<&Key> {
        self.key.as_ref()
    }

    /// Makes a new book.
    ///
    /// # Errors
    /// [`StoreError`]; an existing file is never replaced.
    pub fn create(path: &Path) -> Result<Self, StoreError> {
        Ok(Self {
            connection: open::create(path)?,
            key: None,
        })
    }

    /// Begins a write; other writers wait their turn.
    ///
    /// # Errors
    /// [`StoreError::Busy`] when another process does not finish.
    pub fn write(&mut self) -> Result<Write<'_>, StoreError> {
        Ok(Write {
            transaction: self
                .connection
                .transaction_with_behavior(TransactionBehavior::Immediate)?,
        })
    }

    /// Begins a write if nobody else is writing now: for what can as well be done another time.
    ///
    /// # Errors
    /// [`StoreError::Busy`] at once when another process is writing.
    pub fn write_unless_busy(&self) -> Result<Write<'_>, StoreError> {
        self.connection.busy_timeout(Duration::ZERO)?;
        let begun = Transaction::new_unchecked(&self.connection, TransactionBehavior::Immediate);
        self.connection.busy_timeout(open::PATIENCE)?;
        Ok(Write {
            transaction: begun?,
        })
    }

    /// Holds the book as it stands for as long as the guard lives: for several reads in a row that
    /// wait for nobody. Writers are not kept waiting by it.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn at_once(&self) -> Result<Transaction<'_>, StoreError> {
        Ok(self.connection.unchecked_transaction()?)
    }

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
        around::others(&self.connection, id, job, limit)
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

    /// Returns the staff list.
    pub fn staff(&self) -> Result<StaffRoll, StoreError> {
        around::staff(&self.connection)
    }

    /// Returns the practice's choices.
    pub fn practice(&self) -> Result<Practice, StoreError> {
        around::practice(&self.connection)
    }

    /// Returns what was being typed into a job: path of the field and text.
    pub fn drafts(&self, id: i64) -> Result<Vec<(String, String)>, StoreError> {
        let mut statement = self.connection.prepare_cached(DRAFTS)?;
        let rows = statement.query_map([id], |r| Ok((r.get(0)?, r.get(1)?)))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Returns a number that changes when another process commits.
    pub fn data_version(&self) -> Result<i64, StoreError> {
        Ok(self
            .connection
            .pragma_query_value(None, "data_version", |r| r.get(0))?)
    }

    /// Returns a setting as the connection has it, for tests of the settings.
    pub fn setting_in_force(&self, name: &str) -> Result<String, StoreError> {
        use rusqlite::types::Value as Kept;
        let kept = self
            .connection
            .pragma_query_value(None, name, |r| r.get::<_, Kept>(0))?;
        Ok(match kept {
            Kept::Integer(n) => n.to_string(),
            Kept::Text(text) => text,
            Kept::Null | Kept::Real(_) | Kept::Blob(_) => String::new(),
        })
    }

    /// Returns how a query would be run, for tests of the indices.
    pub fn plan(&self, sql: &str) -> Result<String, StoreError> {
        let mut statement = self
            .connection
            .prepare(&format!("EXPLAIN QUERY PLAN {sql}"))?;
        // What the query asks with is left open: the plan does not depend on it.
        let mut rows = statement.raw_query();
        let mut steps: Vec<String> = Vec::new();
        while let Some(row) = rows.next()? {
            steps.push(row.get(3)?);
        }
        Ok(steps.join("; "))
    }
}

/// A page of the numbers of a book.
const NUMBERS: &str = "SELECT id, number FROM job WHERE id < ?1 ORDER BY id DESC LIMIT ?2";
/// What was being typed into a job.
const DRAFTS: &str = "SELECT field, text FROM draft WHERE job_id = ?1 ORDER BY field";

/// The query of the worklist.
fn open_lines() -> String {
    format!(
        "SELECT {} FROM job WHERE past = 0 AND stage IN ('measured', 'ordered', 'verified') ORDER BY stage, due_on, id",
        row::LINE
    )
}

/// The query of a page of the jobs of a stage.
fn lines_before() -> String {
    format!(
        "SELECT {}, id FROM job WHERE stage = ?1 AND id < ?2 ORDER BY id DESC LIMIT ?3",
        row::LINE
    )
}

/// The query of the collected jobs of a day, one index for each of its dates.
fn collected_on() -> String {
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

impl Write<'_> {
    /// Reads a job inside the write, refusing one that is not at the expected revision.
    ///
    /// # Errors
    /// [`StoreError::Stale`] when somebody else changed it.
    pub fn job(&self, number: &str, expected: Option<i64>) -> Result<JobRow, StoreError> {
        let row = row::find(&self.transaction, number)?;
        if expected.is_some_and(|e| e != row.revision) {
            return Err(StoreError::Stale(number.to_owned()));
        }
        Ok(row)
    }

    /// Returns the staff list as this write finds it.
    pub fn staff(&self) -> Result<StaffRoll, StoreError> {
        around::staff(&self.transaction)
    }

    /// Returns the practice's choices as this write finds them.
    pub fn practice(&self) -> Result<Practice, StoreError> {
        around::practice(&self.transaction)
    }

    /// Returns the same wearer's other jobs as this write finds them, newest first.
    pub fn others(&self, id: i64, job: &Job, limit: i64) -> Result<Vec<Job>, StoreError> {
        around::others(&self.transaction, id, job, limit)
    }

    /// Writes a job back, one revision on.
    ///
    /// What holds the other open jobs of its wearer, the one before and the one after the change,
    /// is worked out again when they are next listed.
    pub fn put(&self, row: &JobRow, beside: Beside<'_>) -> Result<(), StoreError> {
        if !row::is_same_wearer(&self.transaction, row.id, &row.job)? {
            row::forget_held_of_wearer(&self.transaction, row.id)?;
        }
        row::write(
            &self.transaction,
            row.id,
            &row.number,
            &row.job,
            row.revision + 1,
            beside,
        )?;
        row::forget_held_of_wearer(&self.transaction, row.id)
    }

    /// Adds a job; gives it the next number unless it has one.
    ///
    /// # Errors
    /// [`StoreError::NumberTaken`], [`StoreError::NumberErased`].
    pub fn add(&self, job: &mut Job, beside: Beside<'_>) -> Result<JobRow, StoreError> {
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
        row::write(&self.transaction, id, &number, job, 1, beside)?;
        row::forget_held_of_wearer(&self.transaction, id)?;
        Ok(JobRow {
            id,
            number,
            revision: 1,
            job: job.clone(),
            question: None,
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

    /// Keeps an acceptance for good.
    pub fn accept(&self, id: i64, acceptance: &Acceptance) -> Result<(), StoreError> {
        let content =
            serde_json::to_string(acceptance).map_err(|_| StoreError::Content("an acceptance"))?;
        self.transaction
            .prepare_cached("INSERT INTO acceptance (job_id, content) VALUES (?1, ?2)")?
            .execute(params![id, content])?;
        Ok(())
    }

    /// Keeps the job as it passed a gate.
    pub fn pass(&self, id: i64, gate: Gate, job: &Job) -> Result<(), StoreError> {
        self.transaction
            .prepare_cached(
                "INSERT INTO passed (job_id, gate, stands, content) VALUES (?1, ?2, 1, ?3)",
            )?
            .execute(params![id, gate.word(), row::content_of(job)?])?;
        Ok(())
    }

    /// Marks a gate as not passed in the present round any more.
    pub fn fall_back(&self, id: i64, gate: Gate) -> Result<(), StoreError> {
        self.transaction
            .prepare_cached("UPDATE passed SET stands = 0 WHERE job_id = ?1 AND gate = ?2")?
            .execute(params![id, gate.word()])?;
        Ok(())
    }

    /// Notes which checks hold a job; no revision, no event: nothing about the job has changed.
    pub fn note_held(&self, number: &str, held: &Held, on: NaiveDate) -> Result<(), StoreError> {
        self.transaction
            .prepare_cached("UPDATE job SET held = ?2, held_on = ?3 WHERE number = ?1")?
            .execute(params![number, held.as_kept(), on.to_string()])?;
        Ok(())
    }

    /// Adds a person; one of the same name is replaced. What holds each open job is worked out
    /// again when it is next listed.
    pub fn add_staff(&self, member: &StaffMember) -> Result<(), StoreError> {
        let content = serde_json::to_string(member).map_err(|_| StoreError::Content("a person"))?;
        self.transaction.execute(
            "INSERT INTO staff (name, content) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET content = excluded.content",
            params![member.name, content],
        )?;
        row::forget_held(&self.transaction)
    }

    /// Keeps the practice's choices. What holds each open job is worked out again when it is next
    /// listed.
    pub fn set_practice(&self, practice: &Practice) -> Result<(), StoreError> {
        let content =
            serde_json::to_string(practice).map_err(|_| StoreError::Content("a setting"))?;
        self.transaction.execute(
            "INSERT INTO setting (name, content) VALUES ('practice', ?1) ON CONFLICT (name) DO UPDATE SET content = excluded.content",
            [content],
        )?;
        row::forget_held(&self.transaction)
    }

    /// Keeps what is being typed; `None` forgets it.
    pub fn draft(&self, number: &str, field: &str, text: Option<&str>) -> Result<(), StoreError> {
        match text {
            Some(text) => self
                .transaction
                .prepare_cached(
                    "INSERT INTO draft (job_id, field, text) SELECT id, ?2, ?3 FROM job WHERE number = ?1
                     ON CONFLICT (job_id, field) DO UPDATE SET text = excluded.text",
                )?
                .execute(params![number, field, text])?,
            None => self
                .transaction
                .prepare_cached("DELETE FROM draft WHERE field = ?2 AND job_id = (SELECT id FROM job WHERE number = ?1)")?
                .execute(params![number, field])?,
        };
        Ok(())
    }

    /// Puts everything on the disk together.
    pub fn commit(self) -> Result<(), StoreError> {
        Ok(self.transaction.commit()?)
    }
}
