//! Connections to a book's file, and files and directories that are their owner's alone.

use std::path::Path;

use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags};

use super::error::StoreError;
use super::header;
use super::key::Key;

/// The oldest library without the WAL reset fault fixed in 3.51.3.
const OLDEST_LIBRARY: i32 = 3_051_003;

/// Whether the library is without that fault.
pub(super) fn library_is_sound() -> bool {
    rusqlite::version_number() >= OLDEST_LIBRARY
}

/// How long a process waits for another one that is writing.
pub(crate) const PATIENCE: std::time::Duration = std::time::Duration::from_secs(5);

/// How many statements a connection keeps prepared: more than any deed and the reading of its frame
/// together ask.
const STATEMENTS: usize = 64;

/// Whether a file is worked in with a log.
pub(super) fn has_log(connection: &Connection) -> Result<bool, StoreError> {
    let mode: String = connection.pragma_query_value(None, "journal_mode", |r| r.get(0))?;
    Ok(mode == "wal")
}

#[allow(
    clippy::disallowed_methods,
    reason = "the one place that opens a connection; every setting is made here"
)]
pub(super) fn connect(
    path: &Path,
    flags: OpenFlags,
    key: Option<&Key>,
) -> Result<Connection, StoreError> {
    if !library_is_sound() {
        return Err(StoreError::Library(rusqlite::version()));
    }
    header::note_opened(path);
    let connection = Connection::open_with_flags(path, flags | OpenFlags::SQLITE_OPEN_NO_MUTEX)?;
    if let Some(key) = key {
        unlock(&connection, key)?;
    }
    connection.busy_timeout(PATIENCE)?;
    // A statement that is kept stays prepared whatever it is asked with; else it would be prepared
    // again for each other value that meets a partial index.
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_ENABLE_QPSG, true)?;
    connection.set_prepared_statement_cache_capacity(STATEMENTS);
    Ok(connection)
}

/// Gives a connection the key of an encrypted book, before anything else is read.
#[cfg(feature = "encrypted")]
fn unlock(connection: &Connection, key: &Key) -> Result<(), StoreError> {
    // SQLCipher logs to standard error, which would damage the screen.
    connection.pragma_update_and_check(None, "cipher_log_level", "NONE", |_| Ok(()))?;
    // The statement holds the key: it goes no further than the library, which wipes its own copy.
    let statement = zeroize::Zeroizing::new(format!("PRAGMA key = \"{}\"", key.literal().as_str()));
    connection.execute_batch(&statement)?;
    Ok(())
}

/// Without the library that can decrypt there is nothing to unlock.
#[cfg(not(feature = "encrypted"))]
fn unlock(_connection: &Connection, _key: &Key) -> Result<(), StoreError> {
    Err(StoreError::NoCipher)
}

/// Connects to a copy that nobody works in, to look at it: nothing is written beside it, unless a log or a
/// journal of it has to be read too.
pub(super) fn connect_to_look(path: &Path, key: Option<&Key>) -> Result<Connection, StoreError> {
    let has =
        |end: &str| std::fs::metadata(super::disk::side_file(path, end)).is_ok_and(|m| m.len() > 0);
    if has("-wal") || has("-journal") {
        connect(path, OpenFlags::SQLITE_OPEN_READ_ONLY, key)
    } else {
        connect_without_touching(path, key)
    }
}

pub(super) fn connect_without_touching(
    path: &Path,
    key: Option<&Key>,
) -> Result<Connection, StoreError> {
    use std::fmt::Write as _;

    let mut uri = "file:".to_owned();
    for byte in path.as_os_str().as_encoded_bytes() {
        // Writing to a string does not fail.
        let _ = write!(uri, "%{byte:02X}");
    }
    uri.push_str("?immutable=1");
    header::note_opened(path);
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI;
    connect(Path::new(&uri), flags, key)
}

/// Moves the log into the file and turns it off.
///
/// # Errors
/// [`StoreError::Busy`] while another process has the file open.
pub(super) fn without_log(connection: &Connection) -> Result<(), StoreError> {
    let mode: String =
        connection.pragma_update_and_check(None, "journal_mode", "DELETE", |r| r.get(0))?;
    if mode == "delete" {
        Ok(())
    } else {
        Err(StoreError::Busy)
    }
}

#[cfg(unix)]
pub(super) fn make_directory(directory: &Path) -> std::io::Result<()> {
    use std::os::unix::fs::DirBuilderExt;
    std::fs::DirBuilder::new()
        .recursive(true)
        .mode(0o700)
        .create(directory)
}

#[cfg(not(unix))]
pub(super) fn make_directory(directory: &Path) -> std::io::Result<()> {
    std::fs::create_dir_all(directory)
}

pub(super) fn private_file(path: &Path) -> std::io::Result<()> {
    let mut options = std::fs::OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt;
        options.mode(0o600);
    }
    options.open(path).map(drop)
}
