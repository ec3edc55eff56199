//! Opening a book.

use std::path::Path;

use chrono::NaiveDate;

use super::error::DeskError;
use crate::book::clock::Clock;
use crate::book::store::Store;

/// An open book, its clock, and who is signed in.
#[derive(Debug)]
pub struct Desk {
    pub(super) store: Store,
    pub(super) clock: Clock,
    /// Name of the person who is signed in.
    pub(super) session: Option<String>,
}

impl Desk {
    /// Opens an existing book.
    ///
    /// # Errors
    /// [`DeskError`] with one sentence about the file, which is not changed.
    pub fn open(path: &Path, clock: Clock) -> Result<Self, DeskError> {
        Ok(Self {
            store: Store::open(path)?,
            clock,
            session: None,
        })
    }

    /// Makes a new, empty book.
    ///
    /// # Errors
    /// [`DeskError`]; an existing file is never replaced.
    pub fn create(path: &Path, clock: Clock) -> Result<Self, DeskError> {
        Ok(Self {
            store: Store::create(path)?,
            clock,
            session: None,
        })
    }

    /// Opens the book, or makes it where there is none.
    ///
    /// # Errors
    /// As [`Desk::open`] and [`Desk::create`].
    pub fn open_or_create(path: &Path, clock: Clock) -> Result<Self, DeskError> {
        if path.exists() {
            Self::open(path, clock)
        } else {
            Self::create(path, clock)
        }
    }

    /// Returns today, or the fixed day of a trial.
    pub fn today(&self) -> NaiveDate {
        self.clock.today()
    }

    /// Whether a trial has fixed the day.
    pub fn today_is_fixed(&self) -> bool {
        self.clock.fixed.is_some()
    }

    /// Refuses to go on in a book that was replaced or removed.
    ///
    /// # Errors
    /// [`DeskError`] when another file is at its path, or none.
    pub fn is_in_its_place(&self) -> Result<(), DeskError> {
        Ok(self.store.is_in_its_place()?)
    }

    /// Returns a number that changes when another process changes the book; 0 when it cannot be read.
    pub fn data_version(&self) -> i64 {
        self.store.data_version().unwrap_or(0)
    }
}
