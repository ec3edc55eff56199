//! A backup made beside the screens, so that nobody waits for it.

use std::path::Path;
use std::thread::JoinHandle;

use crate::book::clock::Clock;
use crate::book::desk::{BackedUp, Desk, DeskError, ErrorKind};

/// A backup being made.
#[derive(Debug)]
pub(super) struct BackgroundBackup(JoinHandle<Result<BackedUp, DeskError>>);

impl BackgroundBackup {
    /// Begins a backup of the book at a path, over a connection of its own.
    pub(super) fn start(book: &Path, clock: Clock) -> Result<Self, DeskError> {
        let book = book.to_owned();
        std::thread::Builder::new()
            .name("backup".to_owned())
            .spawn(move || Desk::open(&book, clock)?.back_up(None))
            .map(Self)
            .map_err(|e| DeskError::new(ErrorKind::File, format!("no backup was begun ({e})")))
    }

    /// Whether it has ended, well or not.
    pub(super) fn is_finished(&self) -> bool {
        self.0.is_finished()
    }

    /// Waits for its end.
    pub(super) fn wait(self) -> Result<BackedUp, DeskError> {
        self.0.join().unwrap_or_else(|_| {
            Err(DeskError::new(
                ErrorKind::File,
                "the backup broke off; older ones were not touched",
            ))
        })
    }
}
