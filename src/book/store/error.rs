//! Errors of the book, in sentences for a person.

/// An error of the book's file. Nothing was changed.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// There is no such file.
    #[error("there is no book at {0}")]
    Missing(String),
    /// There is a file already.
    #[error("there is a file at {0} already: a new book never replaces one")]
    Exists(String),
    /// The file is no book of this program.
    #[error("{0} is no rimbook book; it was left as it is")]
    Foreign(String),
    /// Not a regular file.
    #[error("{0} is no file, so it is no rimbook book; name the book's file")]
    NoFile(String),
    /// An empty file, as is left when the program is killed in the moment it begins a book.
    #[error("{0} is an empty file, no rimbook book; remove it, and a new book can be begun there")]
    Empty(String),
    /// The file was written by a newer version.
    #[error(
        "the book is of version {found}, this program knows versions up to {known}: use the newer program; the file was left as it is"
    )]
    Newer {
        /// Version of the file.
        found: i64,
        /// Newest version this program knows.
        known: i64,
    },
    /// The number of the version is not that of the tables.
    #[error(
        "the book says that it is of version {0}, and its tables are not of that version: the number was changed or is damaged; the file was left as it is. rimbook doctor --repair puts the number right where it can"
    )]
    WrongVersion(i64),
    /// No copy could be made before the book is brought up to date.
    #[error(
        "the book is of an earlier version and no copy of it could be made beside it before it is brought up to date ({0}); it was left as it is"
    )]
    NoCopy(String),
    /// Tables that are not those of the version.
    #[error(
        "the book's tables are not as this program makes them: they were changed past the program, or the file is damaged; nothing was changed. rimbook doctor says more"
    )]
    Tables,
    /// A job that cannot be read.
    #[error(
        "job {job} cannot be read ({what}): the file is damaged there; the other jobs are not touched by it. rimbook doctor says more"
    )]
    Unreadable {
        /// Its number.
        job: String,
        /// What of it.
        what: &'static str,
    },
    /// The bundled library is too old to be trusted with the book.
    #[error("SQLite {0} is too old: at least 3.51.3 is needed")]
    Library(&'static str),
    /// Another process is writing.
    #[error("another terminal is writing to the book; try again in a moment")]
    Busy,
    /// The file that was open is no longer the one in its place.
    #[error(
        "the book was replaced or removed meanwhile, as a restore does; nothing was changed. Leave, and start again on the one that is there now"
    )]
    Replaced,
    /// The file is damaged.
    #[error(
        "the book's file is damaged; nothing was written. Keep it and restore the newest backup"
    )]
    Damaged,
    /// The book is encrypted and no key was given.
    #[error("the book at {0} is encrypted: it needs a passphrase")]
    Locked(String),
    /// The book is encrypted and this build of the program cannot decrypt.
    #[error(
        "this build of the program opens no encrypted books: use one built with the feature `encrypted`; the file was left as it is"
    )]
    NoCipher,
    /// The passphrase opens none of the keys.
    #[error("that passphrase does not open the book")]
    WrongPassphrase,
    /// The disk is full or the file cannot be written.
    #[error("the book cannot be written ({0}); nothing was changed")]
    Unwritable(&'static str),
    /// A job was changed by somebody else since it was read.
    #[error("job {0} was changed by somebody else since it was read; nothing was overwritten")]
    Stale(String),
    /// A job that was changed past the program.
    #[error(
        "job {0} is not as its history says: it was changed past the program, or the file is damaged; nothing was written. rimbook doctor says more"
    )]
    NotAsHistory(String),
    /// Staff list, settings or secrets that were changed past the program.
    #[error(
        "the staff list, the settings or a PIN are not as history says: they were changed past the program; nothing was written. rimbook doctor says more"
    )]
    PracticeNotAsHistory,
    /// The key that signs the newest entry of history can be neither read nor made.
    #[error("the key that signs the newest entry of history cannot be kept ({0})")]
    HeadKey(std::io::ErrorKind),
    /// A row was not kept although nothing was refused.
    #[error(
        "the book did not keep what was written: its tables are not as this program makes them; nothing was changed. rimbook doctor says more"
    )]
    NotKept,
    /// No such job.
    #[error("there is no job {0}")]
    NoJob(String),
    /// A number that is taken.
    #[error("there is a job {0} already")]
    NumberTaken(String),
    /// A number that an erased job had.
    #[error("number {0} was a job's that is erased; it is not given again")]
    NumberErased(String),
    /// What is stored cannot be read back.
    #[error("what the book holds cannot be read ({0})")]
    Content(&'static str),
    /// The directory of the book cannot be made.
    #[error("the directory of the book cannot be made ({0})")]
    Directory(std::io::ErrorKind),
    /// The system gives no random bytes.
    #[error("the system gives no random bytes; nothing was written")]
    NoRandom,
    /// A backup could not be made; the sentence says why.
    #[error("{0}")]
    Backup(String),
    /// A copy is not what it was copied from.
    #[error("the copy is not whole ({0})")]
    Copy(String),
    /// A copy could not be read in full, so that nothing could be taken out of it.
    #[error(
        "what it would hold cannot all be read: {0}. rimbook doctor names all of it; rimbook doctor --salvage FILE writes what can be read into a new book"
    )]
    Unsound(String),
    /// A backup was not put back; the sentence says why.
    #[error("{0}")]
    Restore(String),
    /// Any other error of the library.
    #[error("the book's library refused ({0})")]
    Other(String),
}

impl From<rusqlite::Error> for StoreError {
    fn from(e: rusqlite::Error) -> Self {
        use rusqlite::ErrorCode as C;
        // Never the statement or its values, which may be data of a wearer.
        let failure = match &e {
            rusqlite::Error::SqliteFailure(failure, _) => failure,
            // A value that is not what was written there: text that is no text, a number that is none.
            rusqlite::Error::FromSqlConversionFailure(..)
            | rusqlite::Error::InvalidColumnType(..)
            | rusqlite::Error::IntegralValueOutOfRange(..)
            | rusqlite::Error::Utf8Error(..) => return Self::Damaged,
            _ => return Self::Other("an unexpected row".to_owned()),
        };
        // No room for the index that all processes at a book share.
        if failure.extended_code == rusqlite::ffi::SQLITE_IOERR_SHMSIZE {
            return Self::Unwritable("the disk is full");
        }
        match failure.code {
            C::DatabaseBusy | C::DatabaseLocked => Self::Busy,
            C::DatabaseCorrupt => Self::Damaged,
            C::NotADatabase => Self::Foreign("the file".to_owned()),
            C::DiskFull => Self::Unwritable("the disk is full"),
            // What was opened is no longer the book: a restore has put another file in its place.
            C::ReadOnly if failure.extended_code == rusqlite::ffi::SQLITE_READONLY_DBMOVED => {
                Self::Replaced
            }
            C::ReadOnly => Self::Unwritable("the file is read-only"),
            C::PermissionDenied | C::CannotOpen => Self::Unwritable("the file cannot be opened"),
            // Every statement is this program's own: what is unknown in it is missing in the file.
            C::Unknown if failure.extended_code == rusqlite::ffi::SQLITE_ERROR => Self::Tables,
            C::SystemIoFailure => Self::Unwritable("the disk does not answer"),
            other => Self::Other(format!("{other:?}")),
        }
    }
}

/// Why a directory takes no backup.
pub(super) fn in_directory(directory: &std::path::Path, why: &std::io::Error) -> StoreError {
    StoreError::Backup(format!(
        "{} cannot take a backup ({why}); nothing was left there and no older backup was touched",
        directory.display()
    ))
}

impl StoreError {
    /// Names the job that could not be read; an error that is not about its content stays.
    pub(super) fn of_job(self, job: &str) -> Self {
        let what = match self {
            Self::Content(what) => what,
            Self::Damaged => "what is stored is not what was written",
            other => return other,
        };
        Self::Unreadable {
            job: job.to_owned(),
            what,
        }
    }
}
