//! A copy of everything a connection sees, in a file that has a temporary name until it is finished.

use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::backup::{Backup, StepResult};
use rusqlite::{Connection, OpenFlags};

use super::connection::{connect, private_file, without_log};
use super::disk;
use super::error::StoreError;
use super::key::Key;

/// Ending of the name of an unfinished file.
pub(crate) const UNFINISHED: &str = ".part";
/// Endings of SQLite's side files.
pub(crate) const SIDE_FILES: [&str; 3] = ["-journal", "-wal", "-shm"];

/// A temporary file; it and its side files are removed on drop unless it was finished.
#[derive(Debug)]
pub(super) struct Unfinished {
    pub(super) file: PathBuf,
    finished: bool,
}

impl Unfinished {
    /// Makes the file, readable by its owner only; `None` when the name is taken.
    pub(super) fn make(file: PathBuf) -> Result<Option<Self>, std::io::Error> {
        match private_file(&file) {
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
    let mut to = connect(into, OpenFlags::SQLITE_OPEN_READ_WRITE, key)?;
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
    let to = connect(into, OpenFlags::SQLITE_OPEN_READ_WRITE, key)?;
    without_log(&to)?;
    Ok(to.close().map_err(|(_, e)| e)?)
}

/// Copies everything a connection sees into memory.
#[allow(
    clippy::disallowed_methods,
    reason = "no file: it needs none of the settings of a book"
)]
pub(super) fn in_memory_copy(from: &Connection) -> Result<Connection, StoreError> {
    let mut to = Connection::open_in_memory()?;
    let backup = Backup::new(from, &mut to)?;
    let done = backup.step(-1)?;
    drop(backup);
    if done == StepResult::Done {
        Ok(to)
    } else {
        Err(StoreError::Busy)
    }
}
