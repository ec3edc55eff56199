//! Errors with a sentence for a person.

use crate::book::store::StoreError;
use crate::job::{JobFileError, RecordError};

/// Kind of an error; it decides the exit status of the command line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ErrorKind {
    /// A wrong command or argument (exit status 2).
    Usage,
    /// There is no such job, person or check.
    NotFound,
    /// Somebody else changed the job first.
    Stale,
    /// Another process is writing.
    Busy,
    /// The book's file cannot be read or written.
    File,
    /// The book's rules do not allow it.
    Refused,
    /// An input that cannot be read or is out of range.
    Input,
    /// The book is encrypted and needs a passphrase.
    Locked,
    /// The file that was open is no longer in its place.
    Gone,
}

impl ErrorKind {
    /// The word of the kind in JSON answers.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Usage => "usage",
            Self::NotFound => "not_found",
            Self::Stale => "stale",
            // A command that is tried again meets the book that is there now.
            Self::Busy | Self::Gone => "busy",
            Self::File => "file",
            Self::Refused => "refused",
            Self::Input => "input",
            Self::Locked => "locked",
        }
    }
}

/// An error for a person: what is wrong, and what to do. Nothing was changed.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct DeskError {
    /// Its kind.
    pub kind: ErrorKind,
    /// One sentence: what is wrong.
    pub message: String,
    /// What the person can do, a sentence each.
    pub hints: Vec<String>,
}

impl DeskError {
    /// Returns an error without hints.
    pub fn new(kind: ErrorKind, message: impl Into<String>) -> Self {
        Self {
            kind,
            message: message.into(),
            hints: Vec::new(),
        }
    }

    /// Adds a sentence about what the person can do.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hints.push(hint.into());
        self
    }
}

impl From<StoreError> for DeskError {
    fn from(e: StoreError) -> Self {
        let (kind, hint) = match &e {
            StoreError::NoJob(_) => (ErrorKind::NotFound, Some("rimbook find TEXT lists numbers")),
            StoreError::Stale(_) => (
                ErrorKind::Stale,
                Some("read the job again and repeat the change"),
            ),
            StoreError::Busy => (ErrorKind::Busy, None),
            StoreError::Replaced => (ErrorKind::Gone, None),
            StoreError::NumberTaken(_) | StoreError::NumberErased(_) => (
                ErrorKind::Input,
                Some("leave the number out to be given one"),
            ),
            StoreError::Locked(_) => (
                ErrorKind::Locked,
                Some(
                    "answer the prompt for the passphrase, or name a file that only you can read: --pin-file FILE",
                ),
            ),
            StoreError::WrongPassphrase => (ErrorKind::Refused, None),
            StoreError::Missing(_) => (
                ErrorKind::File,
                Some("start rimbook without a command to make a book, or name one with --db FILE"),
            ),
            _ => (ErrorKind::File, None),
        };
        let error = Self::new(kind, e.to_string());
        match hint {
            Some(hint) => error.hint(hint),
            None => error,
        }
    }
}

impl From<JobFileError> for DeskError {
    fn from(e: JobFileError) -> Self {
        Self::new(ErrorKind::Input, e.to_string()).hint("docs/job-file.md lists every key")
    }
}

impl From<RecordError> for DeskError {
    fn from(e: RecordError) -> Self {
        Self::new(ErrorKind::Input, e.to_string()).hint("docs/job-file.md lists every key")
    }
}
