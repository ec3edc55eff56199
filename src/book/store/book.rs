//! An open book and a write in progress.

use std::cell::{Cell, RefCell};
use std::path::Path;
use std::time::Duration;

use rusqlite::{Connection, Transaction, TransactionBehavior};

use super::error::StoreError;
use super::key::Key;
#[cfg(feature = "encrypted")]
use super::keyring;
use super::{connection, disk, open};

/// The open book: one connection, and its key if encrypted.
#[derive(Debug)]
pub struct Store {
    pub(super) connection: Connection,
    /// Which file it is; `None` where the system cannot say.
    file: Option<(u64, u64)>,
    /// The key of an encrypted book; `None` for a plain one.
    pub(super) key: Option<Key>,
}

/// A write transaction; nothing is changed unless it is committed.
#[derive(Debug)]
pub struct Write<'a> {
    pub(super) transaction: Transaction<'a>,
    /// The jobs of which it is known that history is as they were before this write.
    known: RefCell<Vec<i64>>,
    /// Whether this write changes staff list, settings or secrets.
    pub(super) practice_changes: Cell<bool>,
}

impl<'a> Write<'a> {
    fn begun(transaction: Transaction<'a>) -> Self {
        Self {
            transaction,
            known: RefCell::default(),
            practice_changes: Cell::default(),
        }
    }

    /// Notes that history is as a job is, before this write changes it.
    pub(super) fn now_known(&self, id: i64) {
        self.known.borrow_mut().push(id);
    }

    /// Whether it is known that history was as a job was before this write.
    pub(super) fn is_known(&self, id: i64) -> bool {
        self.known.borrow().contains(&id)
    }
}

/// Returns the key of an encrypted book that a passphrase, or the recovery code, opens.
///
/// # Errors
/// [`StoreError::WrongPassphrase`]; [`StoreError::NoCipher`] in a build that cannot decrypt.
pub(crate) fn key_opened_by(book: &Path, passphrase: &str) -> Result<Key, StoreError> {
    #[cfg(feature = "encrypted")]
    return keyring::Keyring::of_book(book)?
        .open(passphrase)
        .map(|(_, key)| key)
        .ok_or(StoreError::WrongPassphrase);
    #[cfg(not(feature = "encrypted"))]
    {
        let _ = (book, passphrase);
        Err(StoreError::NoCipher)
    }
}

impl Store {
    /// Opens a book.
    ///
    /// # Errors
    /// [`StoreError`]; the file is then unchanged.
    pub fn open(path: &Path) -> Result<Self, StoreError> {
        Ok(Self::of(open::open(path, None)?, path, None))
    }

    /// Opens an encrypted book.
    ///
    /// # Errors
    /// As [`Store::open`], and [`StoreError::NoCipher`] in a build that cannot decrypt.
    pub fn open_with(path: &Path, key: Key) -> Result<Self, StoreError> {
        Ok(Self::of(open::open(path, Some(&key))?, path, Some(key)))
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
        Ok(Self::of(open::create(path)?, path, None))
    }

    fn of(connection: Connection, path: &Path, key: Option<Key>) -> Self {
        Self {
            connection,
            file: disk::identity(path),
            key,
        }
    }

    /// Refuses to go on in a file that is no longer the one at its path: what is written to it is lost
    /// with it.
    ///
    /// # Errors
    /// [`StoreError::Replaced`] when another file is there, or none, or an empty one.
    pub fn is_in_its_place(&self) -> Result<(), StoreError> {
        let Some(path) = self.path().filter(|p| !p.as_os_str().is_empty()) else {
            return Ok(());
        };
        let is_there = std::fs::metadata(&path).is_ok_and(|m| m.len() > 0);
        if is_there && (self.file.is_none() || disk::identity(&path) == self.file) {
            Ok(())
        } else {
            Err(StoreError::Replaced)
        }
    }

    /// Begins a write; other writers wait their turn.
    ///
    /// # Errors
    /// [`StoreError::Busy`] when another process does not finish.
    pub fn write(&mut self) -> Result<Write<'_>, StoreError> {
        self.is_in_its_place()?;
        open::begin_log(&self.connection)?;
        Ok(Write::begun(self.connection.transaction_with_behavior(
            TransactionBehavior::Immediate,
        )?))
    }

    /// Begins a write if no other process is writing: for work that can wait.
    ///
    /// # Errors
    /// [`StoreError::Busy`] at once when another process is writing.
    pub fn write_unless_busy(&self) -> Result<Write<'_>, StoreError> {
        // A copy that is only looked at stays without a log.
        if !connection::has_log(&self.connection)? {
            return Err(StoreError::Busy);
        }
        self.is_in_its_place()?;
        self.connection.busy_timeout(Duration::ZERO)?;
        let begun = Transaction::new_unchecked(&self.connection, TransactionBehavior::Immediate);
        self.connection.busy_timeout(connection::PATIENCE)?;
        Ok(Write::begun(begun?))
    }

    /// Begins a read transaction: several reads see the same state while the guard lives.
    /// It blocks no writer.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn at_once(&self) -> Result<Transaction<'_>, StoreError> {
        Ok(self.connection.unchecked_transaction()?)
    }

    /// Returns a number that changes when another process commits.
    pub fn data_version(&self) -> Result<i64, StoreError> {
        Ok(self
            .connection
            .pragma_query_value(None, "data_version", |r| r.get(0))?)
    }

    /// Returns a pragma's value on this connection, for tests of the settings.
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

    /// Returns the query plan of a statement, for tests of the indices.
    pub fn plan(&self, sql: &str) -> Result<String, StoreError> {
        let mut statement = self
            .connection
            .prepare(&format!("EXPLAIN QUERY PLAN {sql}"))?;
        // The parameters stay unbound: the plan does not depend on them.
        let mut rows = statement.raw_query();
        let mut steps: Vec<String> = Vec::new();
        while let Some(row) = rows.next()? {
            steps.push(row.get(3)?);
        }
        Ok(steps.join("; "))
    }
}

impl Write<'_> {
    /// Commits the transaction; it is on the disk when this returns.
    pub fn commit(self) -> Result<(), StoreError> {
        Ok(self.transaction.commit()?)
    }
}
