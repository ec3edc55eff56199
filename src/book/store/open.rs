//! Opening a book: settings, whose file it is, which version.

use std::path::Path;

use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags, TransactionBehavior};

use super::error::StoreError;
use super::key::{Key, is_encrypted};
use super::{as_found, book_id, disk, earlier_events, header, recall};

/// Marks the file as a book ("RIMB").
pub const APPLICATION_ID: i32 = 0x5249_4D42;

/// The migrations in order; the version of a book is how many have been run.
const MIGRATIONS: &[Migration] = &[
    Migration {
        sql: include_str!("schema/0001_book.sql"),
        then: None,
    },
    Migration {
        sql: include_str!("schema/0002_history.sql"),
        then: Some(earlier_events::bind_earlier_events),
    },
    Migration {
        sql: include_str!("schema/0003_days.sql"),
        then: None,
    },
    Migration {
        sql: include_str!("schema/0004_figures.sql"),
        then: None,
    },
    Migration {
        sql: include_str!("schema/0005_sent_back.sql"),
        then: None,
    },
    Migration {
        sql: include_str!("schema/0006_visits.sql"),
        then: None,
    },
    Migration {
        sql: include_str!("schema/0007_made.sql"),
        then: Some(recall::fill),
    },
    Migration {
        sql: include_str!("schema/0008_typed_names.sql"),
        then: None,
    },
    Migration {
        sql: include_str!("schema/0009_as_found.sql"),
        then: Some(as_found::bind_as_found),
    },
    Migration {
        sql: include_str!("schema/0010_attempts.sql"),
        then: None,
    },
    Migration {
        sql: include_str!("schema/0011_whose_draft.sql"),
        then: None,
    },
];

/// What a migration does besides its SQL.
type Then = fn(&Connection) -> Result<(), StoreError>;

/// One step from a version of the book to the next.
struct Migration {
    sql: &'static str,
    /// What SQL cannot do.
    then: Option<Then>,
}

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

/// The newest version of a book this program knows.
pub fn newest_version() -> i64 {
    i64::try_from(MIGRATIONS.len()).unwrap_or(i64::MAX)
}

/// Opens the book at a path, running what migrations it lacks.
///
/// # Errors
/// [`StoreError`] for a missing, foreign, newer or damaged file; the file is then unchanged.
pub(crate) fn open(path: &Path, key: Option<&Key>) -> Result<Connection, StoreError> {
    let shown = path.display().to_string();
    refuse_what_is_no_file(path, &shown)?;
    if key.is_none() && is_encrypted(path) {
        return Err(StoreError::Locked(shown));
    }
    let file = disk::identity(path);
    // A journal is only taken back beside a file that was looked into.
    let is_plain = key.is_none()
        && !has_side_file(path, "-journal")
        && header::says(path, APPLICATION_ID, newest_version());
    // The log of a file behind a link lies beside that file, not beside the link.
    let is_logged = is_plain && (has_side_file(path, "-wal") || path.is_symlink());
    if !is_plain {
        look_without_touching(path, &shown, key)?;
        probe(path, &shown, key)?;
    }
    let connection = connect(path, OpenFlags::SQLITE_OPEN_READ_WRITE, key)?;
    if is_logged {
        // Until it is known that the log is a book's of this version too, refusing the file must
        // not put the log into it.
        connection.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true)?;
    }
    {
        // One read for all questions: another process may have run a newer program's migrations
        // since.
        let read = connection.unchecked_transaction()?;
        refuse_foreign(&read, &shown).map_err(|e| match e {
            // An interrupted creation of a book has just been rolled back.
            StoreError::Foreign(_) if is_empty(path) => StoreError::Empty(shown.clone()),
            other => other,
        })?;
        if is_plain {
            has_its_tables(&read)?;
        }
    }
    if is_logged {
        connection.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, false)?;
    }
    settle(&connection)?;
    let connection = migrate(connection, is_plain)?;
    // A restore may have put another file here meanwhile. From now on it would not: it needs the
    // book to itself.
    if disk::identity(path) != file {
        return Err(StoreError::Busy);
    }
    Ok(connection)
}

/// Checks that a file is a book this program knows, without changing it.
///
/// # Errors
/// [`StoreError`] for a missing, foreign, newer or damaged file.
pub(super) fn look_at(path: &Path, key: Option<&Key>) -> Result<(), StoreError> {
    let shown = path.display().to_string();
    if !path.exists() {
        return Err(StoreError::Missing(shown));
    }
    if key.is_none() && is_encrypted(path) {
        return Err(StoreError::Locked(shown));
    }
    look_without_touching(path, &shown, key)?;
    probe(path, &shown, key)
}

/// Whether a file is a database that some other program has marked as its own.
pub(super) fn is_of_another_program(path: &Path) -> bool {
    connect_without_touching(path, None)
        .and_then(|c| Ok(c.pragma_query_value(None, "application_id", |r| r.get::<_, i64>(0))?))
        .is_ok_and(|id| id != 0 && id != i64::from(APPLICATION_ID))
}

/// Whether a file is worked in with a log.
pub(super) fn has_log(connection: &Connection) -> Result<bool, StoreError> {
    let mode: String = connection.pragma_query_value(None, "journal_mode", |r| r.get(0))?;
    Ok(mode == "wal")
}

/// Refuses what cannot be a book before it is opened: opening a pipe would wait for ever.
fn refuse_what_is_no_file(path: &Path, shown: &str) -> Result<(), StoreError> {
    let there = std::fs::metadata(path).map_err(|e| match e.kind() {
        std::io::ErrorKind::NotFound => StoreError::Missing(shown.to_owned()),
        std::io::ErrorKind::PermissionDenied => StoreError::Unwritable("the file cannot be opened"),
        _ => StoreError::Foreign(shown.to_owned()),
    })?;
    if !there.is_file() {
        return Err(StoreError::NoFile(shown.to_owned()));
    }
    if there.len() == 0 && !has_side_file(path, "-wal") {
        return Err(StoreError::Empty(shown.to_owned()));
    }
    Ok(())
}

fn is_empty(path: &Path) -> bool {
    std::fs::metadata(path).is_ok_and(|m| m.len() == 0)
}

/// Whether a log (`-wal`) or a journal with something in it lies beside the file.
fn has_side_file(path: &Path, end: &str) -> bool {
    let mut name = path.as_os_str().to_owned();
    name.push(end);
    std::fs::metadata(name).is_ok_and(|m| m.len() > 0)
}

/// Makes a new, empty book.
///
/// # Errors
/// [`StoreError::Exists`] when there is a file; otherwise as [`open`].
pub(crate) fn create(path: &Path) -> Result<Connection, StoreError> {
    let shown = path.display().to_string();
    if let Some(directory) = path
        .parent()
        .filter(|d| !d.as_os_str().is_empty() && !d.exists())
    {
        make_directory(directory).map_err(|e| StoreError::Directory(e.kind()))?;
    }
    // Created first with private permissions, so that it is never readable by others.
    private_file(path).map_err(|e| match e.kind() {
        std::io::ErrorKind::AlreadyExists => StoreError::Exists(shown.clone()),
        kind => StoreError::Directory(kind),
    })?;
    let connection = connect(path, OpenFlags::SQLITE_OPEN_READ_WRITE, None)?;
    // Before there is a log: whose file it is must be readable from the file alone.
    connection.pragma_update(None, "application_id", APPLICATION_ID)?;
    settle(&connection)?;
    migrate(connection, false)
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

fn connect_without_touching(path: &Path, key: Option<&Key>) -> Result<Connection, StoreError> {
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

/// Reads whose file it is from the file alone: no lock, no side file, so that somebody else's
/// database is not even reached for.
///
/// What is still in a write-ahead log is not seen; a file that has one is decided by [`probe`].
fn look_without_touching(path: &Path, shown: &str, key: Option<&Key>) -> Result<(), StoreError> {
    let connection = connect_without_touching(path, key)?;
    let id = connection
        .pragma_query_value(None, "application_id", |r| r.get::<_, i64>(0))
        .ok();
    let ours = i64::from(APPLICATION_ID);
    // A log or a journal may hold what the file alone lacks: a crash leaves the two to be read
    // together. A journal is only reached for beside a file that is known to be a book, for
    // reading it writes.
    let is_half_told = has_side_file(path, "-wal") && id.is_none_or(|id| id == ours)
        || has_side_file(path, "-journal") && id == Some(ours);
    match refuse_unusable(&connection, shown) {
        Err(e @ StoreError::Newer { .. }) => Err(e),
        Err(e) if !is_half_told => Err(e),
        _ => Ok(()),
    }
}

/// Reads through a connection that cannot write whether the file is a book that can be worked in.
fn probe(path: &Path, shown: &str, key: Option<&Key>) -> Result<(), StoreError> {
    let connection = connect(path, OpenFlags::SQLITE_OPEN_READ_ONLY, key)?;
    // An interrupted write can only be rolled back by a connection that writes; whose file it
    // is has been read from the file itself.
    if connection
        .pragma_query_value(None, "schema_version", |r| r.get::<_, i64>(0))
        .is_err_and(|e| is_to_be_taken_back(&e))
    {
        return Ok(());
    }
    refuse_unusable(&connection, shown)
}

fn is_to_be_taken_back(e: &rusqlite::Error) -> bool {
    e.sqlite_error()
        .is_some_and(|f| f.extended_code == rusqlite::ffi::SQLITE_READONLY_ROLLBACK)
}

fn refuse_unusable(connection: &Connection, shown: &str) -> Result<(), StoreError> {
    refuse_foreign(connection, shown)?;
    if version(connection)? == newest_version() {
        has_its_tables(connection)?;
    }
    Ok(())
}

fn version(connection: &Connection) -> Result<i64, StoreError> {
    Ok(connection.pragma_query_value(None, "user_version", |r| r.get(0))?)
}

/// Refuses a file of a newer program.
fn known_version(connection: &Connection) -> Result<i64, StoreError> {
    let found = version(connection)?;
    if found > newest_version() {
        return Err(StoreError::Newer {
            found,
            known: newest_version(),
        });
    }
    Ok(found)
}

fn has_its_tables(connection: &Connection) -> Result<(), StoreError> {
    let tables: i64 = connection.query_row(
        "SELECT count(*) FROM sqlite_schema WHERE name IN ('job', 'history', 'staff')",
        [],
        |r| r.get(0),
    )?;
    if tables == 3 {
        Ok(())
    } else {
        Err(StoreError::Damaged)
    }
}

pub(super) fn refuse_foreign(connection: &Connection, shown: &str) -> Result<(), StoreError> {
    let id: i64 = connection
        .pragma_query_value(None, "application_id", |r| r.get(0))
        .map_err(|e| match StoreError::from(e) {
            StoreError::Foreign(_) => StoreError::Foreign(shown.to_owned()),
            other => other,
        })?;
    if id != i64::from(APPLICATION_ID) {
        return Err(StoreError::Foreign(shown.to_owned()));
    }
    known_version(connection).map(drop)
}

/// Makes every setting of a connection.
///
/// A file that somebody else wrote runs no code of its own (defensive, untrusted schema, checked cells);
/// what was acknowledged survives a loss of power (full synchronisation); what was erased is overwritten.
fn settle(connection: &Connection) -> Result<(), StoreError> {
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DQS_DML, false)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DQS_DDL, false)?;
    connection.pragma_update(None, "trusted_schema", false)?;
    connection.pragma_update(None, "cell_size_check", true)?;
    if !has_log(connection)? {
        connection.pragma_update_and_check(None, "journal_mode", "WAL", |_| Ok(()))?;
    }
    connection.pragma_update(None, "synchronous", "FULL")?;
    connection.pragma_update(None, "foreign_keys", true)?;
    connection.pragma_update(None, "fullfsync", true)?;
    connection.pragma_update(None, "checkpoint_fullfsync", true)?;
    connection.pragma_update(None, "secure_delete", true)?;
    // What is sorted or joined never lies in a file of its own.
    connection.pragma_update(None, "temp_store", "MEMORY")?;
    connection.pragma_update_and_check(None, "journal_size_limit", 16 * 1024 * 1024, |_| Ok(()))?;
    Ok(())
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

/// Runs the missing migrations of a book; none where its version is known to be the newest.
fn migrate(mut connection: Connection, is_newest: bool) -> Result<Connection, StoreError> {
    if is_newest {
        return Ok(connection);
    }
    if version(&connection)? == newest_version() {
        has_its_tables(&connection)?;
        return Ok(connection);
    }
    // The version is read again inside: two processes may have started together.
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    let found = known_version(&transaction)?;
    run_from(&transaction, found)?;
    book_id::identify(&transaction)?;
    transaction.pragma_update(None, "user_version", newest_version())?;
    transaction.commit()?;
    Ok(connection)
}

/// Runs the migrations from a version on.
fn run_from(c: &Connection, found: i64) -> Result<(), StoreError> {
    for step in MIGRATIONS
        .iter()
        .skip(usize::try_from(found).unwrap_or(usize::MAX))
    {
        c.execute_batch(step.sql)?;
        if let Some(then) = step.then {
            then(c)?;
        }
    }
    Ok(())
}

/// Returns an empty book that is no file: what its tables look like.
#[allow(
    clippy::disallowed_methods,
    reason = "no file: it needs none of the settings of a book"
)]
pub(super) fn in_memory() -> Result<Connection, StoreError> {
    let c = Connection::open_in_memory()?;
    run_from(&c, 0)?;
    Ok(c)
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
