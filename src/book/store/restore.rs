//! Restoring a backup.
//!
//! The backup is copied to the book's directory, checked and flushed before anything is changed.
//! The replaced book is renamed; its new name has the time.

use std::path::{Path, PathBuf};
use std::time::Duration;

use chrono::NaiveDateTime;
use rusqlite::{Connection, OpenFlags};
use serde_json::json;

use super::backup;
use super::book::Store;
use super::copy::{SIDE_FILES, UNFINISHED, Unfinished};
use super::credential;
use super::error::StoreError;
use super::head::Head;
use super::history::{NewEvent, RESTORED};
use super::key::{Key, is_encrypted, keyring_file};
use super::{connection, disk, integrity, open};

/// A checked copy of a backup, in the directory of the book it will replace.
#[derive(Debug)]
pub(crate) struct Prepared {
    part: Unfinished,
    book: PathBuf,
    from: PathBuf,
    /// The newest entry of history in the backup.
    pub head: Head,
    /// The key of an encrypted backup.
    key: Option<Key>,
}

/// What was put back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Restored {
    /// Path of the replaced book; `None` when there was no book.
    pub kept: Option<PathBuf>,
    /// The newest entry of history in the backup.
    pub head: Head,
    /// Whether it is known that no other process had the book open.
    pub was_alone: bool,
}

fn refuse(file: &Path, why: &str) -> StoreError {
    StoreError::Restore(format!(
        "{} was not put back: {why}; the book was left as it is",
        file.display()
    ))
}

impl Prepared {
    /// Copies a backup beside a book and checks the copy.
    ///
    /// # Errors
    /// [`StoreError::Restore`] for a file that is no book, damaged or newer; nothing was changed.
    pub(crate) fn make(file: &Path, book: &Path, key: Option<Key>) -> Result<Self, StoreError> {
        let why = |e: StoreError| match e {
            StoreError::Restore(_) => e,
            e => refuse(file, &e.to_string()),
        };
        let with = key.as_ref();
        open::look_at(file, with).map_err(why)?;
        // A link stays one: what it leads to is replaced.
        let book = book.canonicalize().unwrap_or_else(|_| book.to_owned());
        if disk::identity(file).is_some_and(|id| disk::identity(&book) == Some(id)) {
            return Err(refuse(file, "it is the book itself"));
        }
        if open::is_of_another_program(&book) {
            return Err(refuse(
                file,
                &format!("{} belongs to another program", book.display()),
            ));
        }
        let directory = disk::directory_of(&book);
        if !directory.exists() {
            connection::make_directory(directory).map_err(|e| StoreError::Directory(e.kind()))?;
        }
        let part = (0..100)
            .find_map(|n| {
                let name = format!(".restore-{}-{n}{UNFINISHED}", std::process::id());
                Unfinished::make(disk::side_file(&book, &name)).transpose()
            })
            .transpose()
            .map_err(|e| {
                refuse(
                    file,
                    &format!("{} cannot be written ({e})", directory.display()),
                )
            })?
            .ok_or_else(|| refuse(file, "too many unfinished restores lie beside the book"))?;
        let from = connection::connect_to_look(file, with).map_err(why)?;
        backup::copy_without_secrets(&from, &part.file, with).map_err(why)?;
        drop(from);
        // Before migrations run: what is damaged is not to be worked on.
        let c =
            connection::connect(&part.file, OpenFlags::SQLITE_OPEN_READ_ONLY, with).map_err(why)?;
        let integrity = integrity::integrity(&c).map_err(why)?;
        drop(c);
        if !integrity.is_whole() {
            return Err(refuse(
                file,
                &format!("it is damaged ({})", integrity.words()),
            ));
        }
        let c = open::open(&part.file, with).map_err(why)?;
        let looked = backup::look(&c).map_err(why)?;
        if looked.history_faults > 0 {
            return Err(refuse(
                file,
                &format!(
                    "its history shows {} faults (rimbook --db {} doctor names them)",
                    looked.history_faults,
                    file.display()
                ),
            ));
        }
        if looked.integrity.search_broken {
            integrity::rebuild_search(&c).map_err(why)?;
        }
        Ok(Self {
            part,
            book: book.clone(),
            from: file.to_owned(),
            head: looked.head,
            key,
        })
    }

    /// Returns the copy as a book, to see who is on its staff list.
    ///
    /// # Errors
    /// [`StoreError`] of the copy.
    pub(crate) fn store(&self) -> Result<Store, StoreError> {
        match &self.key {
            Some(key) => Store::open_with(&self.part.file, key.clone()),
            None => Store::open(&self.part.file),
        }
    }

    /// Replaces the book by the copy and records the event.
    ///
    /// # Errors
    /// [`StoreError::Restore`] while another process has the book open; nothing was changed.
    pub(crate) fn replace(
        self,
        at: NaiveDateTime,
        by: &str,
        trial: &dyn Fn(serde_json::Value) -> serde_json::Value,
    ) -> Result<Restored, StoreError> {
        let there = self.book.symlink_metadata().is_ok();
        let kept = if there {
            Some(self.kept_name(at)?)
        } else {
            None
        };
        // No other process can open the book until the names are changed.
        let alone = if there {
            alone(&self.book, self.key.as_ref())?
        } else {
            None
        };
        let before = alone.as_ref().and_then(|c| Head::of(c).ok());
        let mut copy = self.store()?;
        let write = copy.write()?;
        if let Some(present) = &alone {
            // The people of this machine go on with their PINs. A present book that cannot be read has
            // none to carry over.
            write.changes_practice()?;
            credential::carry_over(present, &write.transaction).unwrap_or_default();
        }
        write.practice_event(NewEvent {
            at,
            by: Some(by),
            what: RESTORED,
            detail: &trial(json!({
                "from": self.from.file_name().map(|n| n.to_string_lossy()),
                "from_head": self.head,
                "head_before": before,
                "kept": kept.as_ref().and_then(|k| k.file_name()).map(|n| n.to_string_lossy()),
            })),
        })?;
        write.commit()?;
        connection::without_log(&copy.connection)?;
        drop(copy);
        let why = |e: std::io::Error| {
            refuse(
                &self.from,
                &format!("the file cannot be put in place ({e})"),
            )
        };
        disk::flush_file(&self.part.file).map_err(why)?;
        if let Some(kept) = &kept {
            keep(&self.book, kept).map_err(why)?;
        }
        self.put_keys_in_place(kept.as_deref()).map_err(why)?;
        let was_alone = !there || alone.is_some();
        if let Err(e) = self.part.finish(&self.book) {
            if let Some(kept) = kept.filter(|_| self.book.symlink_metadata().is_err()) {
                std::fs::rename(kept, &self.book).unwrap_or_default();
            }
            return Err(refuse(
                &self.from,
                &format!("the file cannot be put in place ({e})"),
            ));
        }
        drop(alone);
        Ok(Restored {
            kept,
            head: self.head,
            was_alone,
        })
    }

    /// The wrapped keys of the backup become the book's; those of the book it
    /// replaces go with it. A plain backup leaves a plain book.
    fn put_keys_in_place(&self, kept: Option<&Path>) -> std::io::Result<()> {
        let (new, present) = (keyring_file(&self.from), keyring_file(&self.book));
        if let Some(kept) = kept.filter(|_| present.exists()) {
            std::fs::copy(&present, keyring_file(kept))?;
        }
        if self.key.is_some() {
            let part = disk::side_file(&present, UNFINISHED);
            std::fs::copy(&new, &part)?;
            disk::flush_file(&part)?;
            std::fs::rename(part, present)?;
        }
        Ok(())
    }

    /// A free name in the book's directory, with the time in it.
    fn kept_name(&self, at: NaiveDateTime) -> Result<PathBuf, StoreError> {
        let when = at.format(".replaced-%Y-%m-%dT%H-%M-%S");
        (1..100)
            .map(|n| match n {
                1 => disk::side_file(&self.book, &format!("{when}.db")),
                n => disk::side_file(&self.book, &format!("{when}-{n}.db")),
            })
            .find(|name| name.symlink_metadata().is_err())
            .ok_or_else(|| refuse(&self.from, "too many replaced books lie beside it"))
    }
}

/// Takes the book for this process alone, with everything in its file; none when the file is too
/// damaged to tell.
fn alone(book: &Path, key: Option<&Key>) -> Result<Option<Connection>, StoreError> {
    let refused = || {
        StoreError::Restore(
            "the book is open in another terminal, so it was not replaced: leave rimbook there and try again"
                .to_owned(),
        )
    };
    // What cannot be read is not written to either: the library would clear a torn log away.
    // The present book has the backup's key or none; with another one it cannot be read.
    let key = key.filter(|_| is_encrypted(book));
    match open::look_at(book, key) {
        Ok(()) => {}
        Err(StoreError::Busy) => return Err(refused()),
        Err(_) => return Ok(None),
    }
    let Ok(connection) = connection::connect(book, OpenFlags::SQLITE_OPEN_READ_WRITE, key) else {
        return Ok(None);
    };
    let taken = connection
        .busy_timeout(Duration::ZERO)
        .map_err(StoreError::from)
        // Only who is alone with a file can do away with its log.
        .and_then(|()| connection::without_log(&connection))
        .and_then(|()| Ok(connection.execute_batch("BEGIN EXCLUSIVE")?))
        // Another process may have opened the book in between, and made a log.
        .and_then(|()| connection::has_log(&connection))
        .and_then(|has_log| {
            if has_log {
                Err(StoreError::Busy)
            } else {
                Ok(())
            }
        });
    match taken {
        Ok(()) => Ok(Some(connection)),
        Err(StoreError::Busy) => Err(refused()),
        Err(_) => Ok(None),
    }
}

/// Renames the book with its side files: a new book must not meet an old log.
fn keep(book: &Path, kept: &Path) -> std::io::Result<()> {
    for ending in SIDE_FILES {
        match std::fs::rename(disk::side_file(book, ending), disk::side_file(kept, ending)) {
            Err(e) if e.kind() != std::io::ErrorKind::NotFound => return Err(e),
            _ => {}
        }
    }
    // A second name first: so there is a book under its name at every moment. Where the drive knows
    // no second names, the book is without one for a moment.
    std::fs::hard_link(book, kept).or_else(|_| std::fs::rename(book, kept))
}
