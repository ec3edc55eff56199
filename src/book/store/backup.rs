//! A complete, checked copy of a live book, named by the time it was made, and the removal of old
//! copies.
//!
//! Copied by SQLite's own backup (<https://www.sqlite.org/backup.html>) in one read transaction:
//! other processes may write meanwhile. The copy has a temporary name until it is checked and on
//! the disk; only then it gets its final name, so that every file of such a name is complete.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::time::Duration;

use chrono::{Datelike, NaiveDateTime};
use rusqlite::backup::{Backup, StepResult};
use rusqlite::{Connection, OpenFlags, OptionalExtension};
use serde::{Deserialize, Serialize};

use super::book::{Store, Write};
use super::book_id::{BOOK_ID, hex, identify};
use super::chain;
use super::error::StoreError;
use super::hash::Hash;
use super::integrity::{self, Integrity};
use super::key::{Key, keyring_file};
use super::settings::LAST_BACKUP;
use super::walk;
use super::{disk, open, settings};

/// Format of the time in a backup's name.
const NAME: &str = "book-%Y-%m-%dT%H-%M-%S";
/// Attempts to record a backup in the book.
const NOTING: u32 = 6;
/// Largest number of backups named by the same second.
const SAME_SECOND: u32 = 100;
/// Ending of the name of an unfinished file.
pub(crate) const UNFINISHED: &str = ".part";
/// Endings of SQLite's side files.
pub(crate) const SIDE_FILES: [&str; 3] = ["-journal", "-wal", "-shm"];

/// The newest entry of history: its id, and its link in hexadecimal digits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Head {
    /// Id; 0 before the first.
    pub id: i64,
    /// Link.
    pub link: String,
}

impl Head {
    pub(super) fn of(c: &Connection) -> Result<Self, StoreError> {
        let (id, link) = chain::head(c)?;
        Ok(Self {
            id,
            link: hex(&link),
        })
    }
}

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
}

/// A backup of this book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnBackup {
    /// The file.
    pub file: PathBuf,
    /// When it was made, by its name.
    pub at: NaiveDateTime,
    /// The newest entry of history in it.
    pub head: Head,
}

/// How many backups are kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Keep {
    /// The newest ones.
    pub last: usize,
    /// The newest of each of so many days.
    pub days: usize,
    /// The newest of each of so many weeks.
    pub weeks: usize,
    /// The newest of each of so many months.
    pub months: usize,
}

/// A temporary file; it and its side files are removed on drop unless it was finished.
#[derive(Debug)]
pub(super) struct Unfinished {
    pub(super) file: PathBuf,
    finished: bool,
}

impl Unfinished {
    /// Makes the file, readable by its owner only; `None` when the name is taken.
    pub(super) fn make(file: PathBuf) -> Result<Option<Self>, std::io::Error> {
        match open::private_file(&file) {
            Ok(()) => Ok(Some(Self {
                file,
                finished: false,
            })),
            Err(e) if e.kind() == std::io::ErrorKind::AlreadyExists => Ok(None),
            Err(e) => Err(e),
        }
    }

    /// Renames the file to its final name and flushes the directory.
    pub(super) fn finish(mut self, name: &Path) -> Result<(), std::io::Error> {
        std::fs::rename(&self.file, name)?;
        self.finished = true;
        disk::flush_directory(disk::directory_of(name))
    }
}

impl Drop for Unfinished {
    fn drop(&mut self) {
        if !self.finished {
            remove(&self.file);
        }
    }
}

fn remove(file: &Path) {
    for ending in SIDE_FILES {
        // A missing file needs no removal.
        std::fs::remove_file(disk::side_file(file, ending)).unwrap_or_default();
    }
    std::fs::remove_file(file).unwrap_or_default();
}

/// Copies everything a connection sees in one read into an empty file, as one file without a log.
/// An encrypted book is copied encrypted, with the same key.
pub(super) fn copy(from: &Connection, into: &Path, key: Option<&Key>) -> Result<(), StoreError> {
    let mut to = open::connect(into, OpenFlags::SQLITE_OPEN_READ_WRITE, key)?;
    let backup = Backup::new(from, &mut to)?;
    // All pages in one step are one read transaction; it blocks no other writer.
    let mut tries = 0;
    loop {
        match backup.step(-1)? {
            StepResult::Done => break,
            StepResult::More => {}
            _ if tries < 100 => {
                tries += 1;
                std::thread::sleep(Duration::from_millis(50));
            }
            _ => return Err(StoreError::Busy),
        }
    }
    drop(backup);
    to.close().map_err(|(_, e)| e)?;
    // Opened again, because the copied header claims a log.
    let to = open::connect(into, OpenFlags::SQLITE_OPEN_READ_WRITE, key)?;
    open::without_log(&to)?;
    Ok(to.close().map_err(|(_, e)| e)?)
}

/// Result of checking a copy.
pub(super) struct Looked {
    pub(super) head: Head,
    pub(super) integrity: Integrity,
    pub(super) history_faults: usize,
}

/// Checks a copy that no other process uses.
pub(super) fn look(c: &Connection) -> Result<Looked, StoreError> {
    let integrity = integrity::integrity(c)?;
    let head = Head::of(c)?;
    let walk = walk::walk(c)?;
    Ok(Looked {
        integrity,
        history_faults: walk.faults.len() + usize::from(head.link != hex(&walk.head)),
        head,
    })
}

fn in_directory(directory: &Path, why: &std::io::Error) -> StoreError {
    StoreError::Backup(format!(
        "{} cannot take a backup ({why}); nothing was left there and no older backup was touched",
        directory.display()
    ))
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
    pub fn back_up(&mut self, directory: &Path, at: NaiveDateTime) -> Result<Copied, StoreError> {
        if self.setting::<String>(BOOK_ID)?.is_none() {
            let write = self.write()?;
            identify(&write.transaction)?;
            write.commit()?;
        }
        if !directory.exists() {
            open::make_directory(directory).map_err(|e| in_directory(directory, &e))?;
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
            let c = open::connect(
                &part.file,
                OpenFlags::SQLITE_OPEN_READ_ONLY,
                self.key.as_ref(),
            )?;
            let looked = look(&c)?;
            c.close().map_err(|(_, e)| e)?;
            if !looked.integrity.is_whole() {
                return Err(StoreError::Copy(looked.integrity.words()));
            }
            if looked.head != head {
                return Err(StoreError::Copy(format!(
                    "its history ends at entry {}, that of the book at {}",
                    looked.head.id, head.id
                )));
            }
            Ok(looked)
        })()
        .map_err(refuse)?;
        let bytes = std::fs::metadata(&part.file).map_or(0, |m| m.len());
        // The keys are copied first: a backup without its key would be lost.
        #[cfg(feature = "encrypted")]
        self.copy_keys(&file).map_err(refuse)?;
        disk::flush_file(&part.file)
            .and_then(|()| part.finish(&file))
            .map_err(|e| in_directory(directory, &e))?;
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
        })
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
        copy(&reading, into, self.key.as_ref())?;
        reading.finish()?;
        Ok(head)
    }

    /// Returns what is wrong with a backup; `None` when it is complete.
    ///
    /// # Errors
    /// [`StoreError`] when it cannot be read at all.
    pub fn look_into(&self, backup: &Path) -> Result<Option<String>, StoreError> {
        let c = open::connect(backup, OpenFlags::SQLITE_OPEN_READ_ONLY, self.key.as_ref())?;
        let looked = look(&c)?;
        Ok(if !looked.integrity.is_whole() {
            Some(looked.integrity.words())
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

    /// Returns the backups of this book in a directory, oldest first. Other files are opened only
    /// as far as needed to recognise them.
    ///
    /// # Errors
    /// [`StoreError`] of the book, or of the directory.
    pub fn own_backups(&self, directory: &Path) -> Result<Vec<OwnBackup>, StoreError> {
        let Some(id) = self.setting::<String>(BOOK_ID)? else {
            return Ok(Vec::new());
        };
        let entries = std::fs::read_dir(directory).map_err(|e| in_directory(directory, &e))?;
        let mut found: Vec<OwnBackup> = entries
            .filter_map(Result::ok)
            // A symbolic link leads to another directory; backups are not looked for there.
            .filter(|e| e.file_type().is_ok_and(|t| t.is_file()))
            .filter_map(|e| own(&e.path(), &id, self.key.as_ref()))
            .collect();
        found.sort_by(|a, b| (a.at, a.head.id, &a.file).cmp(&(b.at, b.head.id, &b.file)));
        Ok(found)
    }

    /// Removes the backups of this book beyond the numbers to keep; returns those removed.
    ///
    /// # Errors
    /// As [`Store::own_backups`].
    pub fn rotate(
        &self,
        directory: &Path,
        keep: Keep,
        never: &Path,
    ) -> Result<Vec<PathBuf>, StoreError> {
        let all = self.own_backups(directory)?;
        let times: Vec<NaiveDateTime> = all.iter().map(|b| b.at).collect();
        let kept = kept(&times, keep);
        let mut gone = Vec::new();
        for (place, backup) in all.into_iter().enumerate() {
            let stays = kept.contains(&place) || backup.file == never;
            // Another process may have removed it a moment ago.
            if !stays && std::fs::remove_file(&backup.file).is_ok() {
                // A plain backup has no key file.
                std::fs::remove_file(keyring_file(&backup.file)).unwrap_or_default();
                gone.push(backup.file);
            }
        }
        Ok(gone)
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

/// The moment in a backup's name; `None` for any other name.
pub fn moment_of(file: &Path) -> Option<NaiveDateTime> {
    let name = file.file_name()?.to_str()?.strip_suffix(".db")?;
    let (when, n) = match name.match_indices('-').nth(5) {
        Some((at, _)) => (name.get(..at)?, name.get(at + 1..)?),
        None => (name, "2"),
    };
    let second = n
        .parse::<u32>()
        .ok()
        .filter(|n| (2..=SAME_SECOND).contains(n));
    second?;
    NaiveDateTime::parse_from_str(when, NAME).ok()
}

/// Returns a file's description if it is a backup of this book.
fn own(file: &Path, book: &str, key: Option<&Key>) -> Option<OwnBackup> {
    let at = moment_of(file)?;
    let c = open::connect(file, OpenFlags::SQLITE_OPEN_READ_ONLY, key).ok()?;
    open::refuse_foreign(&c, "").ok()?;
    let id: String = settings::setting(&c, BOOK_ID).ok()??;
    (id == book).then_some(())?;
    let head = Head::of(&c).ok()?;
    Some(OwnBackup {
        file: file.to_owned(),
        at,
        head,
    })
}

/// Indices of the moments, oldest first, that are kept.
fn kept(times: &[NaiveDateTime], keep: Keep) -> BTreeSet<usize> {
    fn newest_of_each<K: PartialEq>(
        times: &[NaiveDateTime],
        how_many: usize,
        of: impl Fn(&NaiveDateTime) -> K,
    ) -> Vec<usize> {
        let mut kept = Vec::new();
        let mut last: Option<K> = None;
        for (place, time) in times.iter().enumerate().rev() {
            if kept.len() == how_many {
                break;
            }
            let period = of(time);
            if last.as_ref() != Some(&period) {
                kept.push(place);
                last = Some(period);
            }
        }
        kept
    }
    let mut all: BTreeSet<usize> = (times.len().saturating_sub(keep.last)..times.len()).collect();
    all.extend(newest_of_each(times, keep.days, NaiveDateTime::date));
    all.extend(newest_of_each(times, keep.weeks, Datelike::iso_week));
    all.extend(newest_of_each(times, keep.months, |t| {
        (t.year(), t.month())
    }));
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> NaiveDateTime {
        text.parse().unwrap()
    }

    #[test]
    fn the_newest_of_each_day_week_and_month_are_kept() {
        // Two a day, from a Monday for forty days: 2026-01-05 to 2026-02-13.
        let times: Vec<NaiveDateTime> = (0..40)
            .flat_map(|d| {
                let day = at("2026-01-05T00:00:00") + chrono::TimeDelta::days(d);
                [9, 18].map(|h| day + chrono::TimeDelta::hours(h))
            })
            .collect();
        let keep = |last, days, weeks, months| {
            let keep = Keep {
                last,
                days,
                weeks,
                months,
            };
            let mut found: Vec<String> = kept(&times, keep)
                .into_iter()
                .map(|i| times[i].format("%m-%d %H").to_string())
                .collect();
            found.reverse();
            found
        };
        assert_eq!(keep(3, 0, 0, 0), ["02-13 18", "02-13 09", "02-12 18"]);
        assert_eq!(keep(1, 3, 0, 0), ["02-13 18", "02-12 18", "02-11 18"]);
        // The newest of a week that is over is its Sunday evening.
        assert_eq!(keep(1, 0, 3, 0), ["02-13 18", "02-08 18", "02-01 18"]);
        assert_eq!(keep(1, 0, 0, 9), ["02-13 18", "01-31 18"]);
        assert_eq!(keep(0, 1, 2, 2), ["02-13 18", "02-08 18", "01-31 18"]);
        assert_eq!(keep(500, 0, 0, 0).len(), 80);
    }

    #[test]
    fn only_names_of_backups_are_taken_for_backups() {
        let moment = |name: &str| moment_of(Path::new(name));
        let wanted = Some(at("2026-11-25T14:47:03"));
        assert_eq!(moment("/b/book-2026-11-25T14-47-03.db"), wanted);
        assert_eq!(moment("/b/book-2026-11-25T14-47-03-2.db"), wanted);
        for other in [
            "book.db",
            "book-2026-11-25T14-47-03.db.part",
            "book-2026-11-25T14-47-03-x.db",
            "book-2026-11-25T14-47-03-1.db",
            "book-2026-13-25T14-47-03.db",
            "book-2026-11-25T14-47-03",
            "a-book-2026-11-25T14-47-03.db",
        ] {
            assert_eq!(moment(other), None, "{other}");
        }
    }
}
