//! A complete, checked copy of a live book, named by the time it was made, and the removal of old
//! copies.
//!
//! Copied by SQLite's own backup (<https://www.sqlite.org/backup.html>) in one read transaction:
//! other processes may write meanwhile. The copy has a temporary name until it is checked and on
//! the disk; only then it gets its final name, so that every file of such a name is complete.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use chrono::NaiveDateTime;
use rusqlite::{Connection, OpenFlags, OptionalExtension};
use serde::{Deserialize, Serialize};

use super::book::{Store, Write};
use super::book_id::{BOOK_ID, hex, identify};
use super::copy::{UNFINISHED, Unfinished, copy};
use super::credential;
use super::error::{StoreError, in_directory};
use super::every_row::Unreadable;
use super::hash::Hash;
use super::head::Head;
use super::integrity::{self, Integrity};
use super::key::Key;
use super::old_backups::{NAME, SAME_SECOND};
use super::settings::LAST_BACKUP;
use super::signed_head::{self, Against, SignedHead, head_file};
use super::times::now_as_kept;
use super::walk;
use super::{connection, disk, every_row, open};

/// Attempts to record a backup in the book.
const NOTING: u32 = 6;

/// The last backup recorded in the book.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct LastBackup {
    /// When.
    pub at: NaiveDateTime,
    /// The file.
    pub file: String,
    /// The newest entry of history in it.
    pub head: Head,
}

/// A copy that was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Copied {
    /// The file.
    pub file: PathBuf,
    /// Its size in bytes.
    pub bytes: u64,
    /// The newest entry of history in it.
    pub head: Head,
    /// Number of faults in its history; the book has the same.
    pub history_faults: usize,
    /// Whether its search index is broken; the book's is the same.
    pub search_broken: bool,
    /// Whether it could be recorded in the book.
    pub noted: bool,
    /// The newest entry of history as a code to write down.
    pub code: String,
    /// Why there is no signed head beside it; `None` where there is one, or none was asked for.
    pub unsigned: Option<String>,
}

/// Copies a book as [`copy::copy`] does, without a secret of anybody: what a PIN could be guessed against
/// stays in the book.
pub(super) fn copy_without_secrets(
    from: &Connection,
    into: &Path,
    key: Option<&Key>,
) -> Result<(), StoreError> {
    copy(from, into, key)?;
    let to = connection::connect(into, OpenFlags::SQLITE_OPEN_READ_WRITE, key)?;
    to.pragma_update(None, "secure_delete", true)?;
    // A file that is damaged, or no book, is copied as it is: the checks that follow say so.
    if open::refuse_foreign(&to, "").is_ok() {
        credential::remove_all(&to)?;
    }
    Ok(to.close().map_err(|(_, e)| e)?)
}

/// Result of checking a copy.
pub(super) struct Looked {
    pub(super) head: Head,
    pub(super) integrity: Integrity,
    pub(super) history_faults: usize,
    pub(super) unreadable: Vec<Unreadable>,
}

/// Checks a copy that no other process uses, and reads every row of it as an export would.
pub(super) fn look(c: &Connection) -> Result<Looked, StoreError> {
    let integrity = integrity::integrity(c)?;
    let unreadable = every_row::unreadable(c)?;
    let head = Head::of(c)?;
    let walk = walk::walk(c)?;
    Ok(Looked {
        integrity,
        history_faults: walk.faults.len() + usize::from(head.link != hex(&walk.head)),
        unreadable,
        head,
    })
}

/// Keeps a signed head beside a backup.
fn keep_head(backup: &Path, head: &SignedHead) -> std::io::Result<()> {
    let file = head_file(backup);
    let text = serde_json::to_string_pretty(head)? + "\n";
    connection::private_file(&file)?;
    std::fs::write(&file, text)?;
    disk::flush_file(&file)
}

/// Reserves the first free name of a moment.
fn reserve(directory: &Path, at: NaiveDateTime) -> Result<(Unfinished, PathBuf), StoreError> {
    for n in 1..=SAME_SECOND {
        let mut name = at.format(NAME).to_string();
        if n > 1 {
            let _ = write!(name, "-{n}");
        }
        let file = directory.join(name + ".db");
        let part = Unfinished::make(disk::side_file(&file, UNFINISHED))
            .map_err(|e| in_directory(directory, &e))?;
        // Only the holder of the unfinished file gives the final name, so checking that it is free is enough.
        if let Some(part) = part
            && file.symlink_metadata().is_err()
        {
            return Ok((part, file));
        }
    }
    Err(StoreError::Backup(format!(
        "{} holds too many backups of {at} already",
        directory.display()
    )))
}

impl Store {
    /// Copies the book into a directory, checks the copy and records it in the book.
    ///
    /// # Errors
    /// [`StoreError::Backup`] with a sentence; no new file remains, and no older one was changed.
    pub fn back_up(
        &mut self,
        directory: &Path,
        at: NaiveDateTime,
        head_keys: Option<&Path>,
    ) -> Result<Copied, StoreError> {
        if self.setting::<String>(BOOK_ID)?.is_none() {
            let write = self.write()?;
            identify(&write.transaction)?;
            write.commit()?;
        }
        if !directory.exists() {
            connection::make_directory(directory).map_err(|e| in_directory(directory, &e))?;
        }
        let (part, file) = reserve(directory, at)?;
        let refuse = |e: StoreError| match e {
            StoreError::Busy => StoreError::Busy,
            e => StoreError::Backup(format!(
                "the backup was not made: {e}; nothing was left in {} and no older backup was touched",
                directory.display()
            )),
        };
        let head = self.copy_of_one_moment(&part.file).map_err(refuse)?;
        let copied = (|| {
            let c = connection::connect(
                &part.file,
                OpenFlags::SQLITE_OPEN_READ_ONLY,
                self.key.as_ref(),
            )?;
            let looked = look(&c)?;
            let code = signed_head::code(&c)?;
            let signed = head_keys
                .map(|keys| self.signed(&c, keys))
                .transpose()
                .map_err(|e| e.to_string());
            c.close().map_err(|(_, e)| e)?;
            if !looked.integrity.is_whole() {
                return Err(StoreError::Copy(looked.integrity.words()));
            }
            if let Some(first) = looked.unreadable.first() {
                return Err(StoreError::Unsound(first.to_string()));
            }
            if looked.head != head {
                return Err(StoreError::Copy(format!(
                    "its history ends at entry {}, that of the book at {}",
                    looked.head.id, head.id
                )));
            }
            Ok((looked, code, signed))
        })();
        let (copied, code, signed) = copied.map_err(refuse)?;
        let bytes = std::fs::metadata(&part.file).map_or(0, |m| m.len());
        // The keys are copied first: a backup without its key would be lost.
        #[cfg(feature = "encrypted")]
        self.copy_keys(&file).map_err(refuse)?;
        disk::flush_file(&part.file)
            .and_then(|()| part.finish(&file))
            .map_err(|e| in_directory(directory, &e))?;
        // The copy is worth more than its head: without one it is kept all the same.
        let unsigned = signed.and_then(|head| match head {
            Some(head) => keep_head(&file, &head).map_err(|e| e.to_string()),
            None => Ok(()),
        });
        let last = LastBackup {
            at,
            file: file.display().to_string(),
            head: head.clone(),
        };
        let noted = self.note(&last).is_ok();
        Ok(Copied {
            file,
            bytes,
            head,
            history_faults: copied.history_faults,
            search_broken: copied.integrity.search_broken,
            noted,
            code,
            unsigned: unsigned.err(),
        })
    }

    /// Signs the newest entry of a copy of this book.
    fn signed(&self, copy: &Connection, keys: &Path) -> Result<SignedHead, StoreError> {
        let seed = if let Some(key) = &self.key {
            signed_head::seed_from(key.bytes())
        } else {
            let book = self.known_book_id()?.unwrap_or_default();
            signed_head::seed_made_in(keys, &book)?
        };
        SignedHead::sign(copy, &seed, &now_as_kept())
    }

    /// Returns the code of the newest entry of history.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn head_code(&self) -> Result<String, StoreError> {
        signed_head::code(&self.connection)
    }

    /// Compares the book with a code of its history, or with the text of a signed head.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn against(&self, kept: &str, keys: Option<&Path>) -> Result<Against, StoreError> {
        let book = self.known_book_id()?.unwrap_or_default();
        let seed = match &self.key {
            Some(key) => Some(signed_head::seed_from(key.bytes())),
            None => keys.and_then(|keys| signed_head::seed_in(keys, &book)),
        };
        signed_head::against(&self.connection, kept, seed.as_deref())
    }

    /// Copies the wrapped keys of an encrypted book next to its backup.
    #[cfg(feature = "encrypted")]
    fn copy_keys(&self, backup: &Path) -> Result<(), StoreError> {
        match (&self.key, self.path()) {
            (Some(_), Some(book)) => super::keyring::Keyring::of_book(&book)?.keep(backup),
            _ => Ok(()),
        }
    }

    /// Records a backup in the book; waits for another process that writes.
    fn note(&mut self, last: &LastBackup) -> Result<(), StoreError> {
        let mut tries = 0;
        let write = loop {
            tries += 1;
            match self.write() {
                Err(StoreError::Busy) if tries < NOTING => {}
                begun => break begun?,
            }
            // The borrow ends with this turn of the loop; the next turn begins a new write.
        };
        write.set_setting(LAST_BACKUP, last)?;
        write.commit()
    }

    /// Copies the book and returns the newest entry of history in the copy.
    fn copy_of_one_moment(&self, into: &Path) -> Result<Head, StoreError> {
        // One read transaction around both: the copy is made from what it sees.
        let reading = self.connection.unchecked_transaction()?;
        let head = Head::of(&reading)?;
        copy_without_secrets(&reading, into, self.key.as_ref())?;
        reading.finish()?;
        Ok(head)
    }

    /// Returns what is wrong with a backup; `None` when it is complete.
    ///
    /// # Errors
    /// [`StoreError`] when it cannot be read at all.
    pub fn look_into(&self, backup: &Path) -> Result<Option<String>, StoreError> {
        let c = connection::connect_to_look(backup, self.key.as_ref())?;
        let looked = look(&c)?;
        Ok(if !looked.integrity.is_whole() {
            Some(looked.integrity.words())
        } else if let Some(first) = looked.unreadable.first() {
            Some(first.to_string())
        } else if looked.history_faults > 0 {
            Some(format!(
                "its history shows {} faults",
                looked.history_faults
            ))
        } else {
            None
        })
    }

    /// Returns the last backup.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn last_backup(&self) -> Result<Option<LastBackup>, StoreError> {
        self.setting(LAST_BACKUP)
    }

    /// Returns the newest entry of history.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn head(&self) -> Result<Head, StoreError> {
        Head::of(&self.connection)
    }

    /// Whether the book has an entry of history with this id and link.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn has_entry(&self, head: &Head) -> Result<bool, StoreError> {
        if head.id == 0 {
            return Ok(true);
        }
        let link: Option<Hash> = self
            .connection
            .prepare_cached("SELECT link FROM history WHERE id = ?1")?
            .query_row([head.id], |r| r.get(0))
            .optional()?;
        Ok(link.is_some_and(|link| hex(&link) == head.link))
    }
}

impl Store {
    /// Returns the id of the book, if it has been given one.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn known_book_id(&self) -> Result<Option<String>, StoreError> {
        self.setting(BOOK_ID)
    }
}

impl Write<'_> {
    /// Returns the id of the book, given to it now if it had none.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn book_id(&self) -> Result<String, StoreError> {
        identify(&self.transaction)
    }
}
