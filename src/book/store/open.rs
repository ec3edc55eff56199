//! Opening a book: settings, whose file it is, which version.

use std::path::Path;

use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags, TransactionBehavior};

use super::connection::{connect, connect_without_touching, has_log, make_directory, private_file};
use super::copy::{UNFINISHED, Unfinished, copy, in_memory_copy};
use super::error::StoreError;
use super::key::{Key, is_encrypted, keyring_file};
use super::migrations::{newest_version, run_from};
use super::times::now_as_kept;
use super::{book_id, disk, header, tables};

/// Marks the file as a book ("RIMB").
pub const APPLICATION_ID: i32 = 0x5249_4D42;

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
    if disk::is_write_protected(path) && !has_side_file(path, "-wal") {
        return open_to_look(path, &shown, key);
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
    let connection = migrate(connection, is_plain, Some((path, key)))?;
    // A restore may have put another file here meanwhile. From now on it would not: it needs the
    // book to itself.
    if disk::identity(path) != file {
        return Err(StoreError::Busy);
    }
    Ok(connection)
}

/// Opens a book that cannot be written, as a copy on a medium that is protected: it is read as it is, and
/// one of an earlier version is brought up to date in memory alone.
fn open_to_look(path: &Path, shown: &str, key: Option<&Key>) -> Result<Connection, StoreError> {
    let mut connection = connect_without_touching(path, key)?;
    refuse_foreign(&connection, shown)?;
    let found = version(&connection)?;
    if found < newest_version() {
        if !tables::are_of(&connection, found)? {
            return Err(StoreError::WrongVersion(found));
        }
        let memory = in_memory_copy(&connection)?;
        run_from(&memory, found)?;
        connection = memory;
    }
    has_its_tables(&connection)?;
    connection.pragma_update(None, "query_only", true)?;
    Ok(connection)
}

/// Begins the log of a book that is to be written to: a copy lies without one.
///
/// # Errors
/// [`StoreError`] of the file.
pub(super) fn begin_log(connection: &Connection) -> Result<(), StoreError> {
    if !has_log(connection)? {
        connection.pragma_update_and_check(None, "journal_mode", "WAL", |_| Ok(()))?;
    }
    Ok(())
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
    if disk::is_write_protected(path) {
        return Ok(());
    }
    probe(path, &shown, key)
}

/// Whether a file is a database that some other program has marked as its own.
pub(super) fn is_of_another_program(path: &Path) -> bool {
    connect_without_touching(path, None)
        .and_then(|c| Ok(c.pragma_query_value(None, "application_id", |r| r.get::<_, i64>(0))?))
        .is_ok_and(|id| id != 0 && id != i64::from(APPLICATION_ID))
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
    begin_log(&connection)?;
    migrate(connection, false, None)
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

/// Versions ahead of this program's that a newer one may have.
const AHEAD: i64 = 100;

/// Whether no program writes books of such a version.
fn is_no_version(found: i64) -> bool {
    !(1..=newest_version() + AHEAD).contains(&found)
}

/// Refuses a file of a newer program, and a number that is no version.
fn known_version(connection: &Connection) -> Result<i64, StoreError> {
    let found = version(connection)?;
    // A book that is being begun has none yet.
    if found != 0 && is_no_version(found) {
        return Err(StoreError::WrongVersion(found));
    }
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

/// Runs the missing migrations of a book; none where its version is known to be the newest. A book that
/// is there already is copied before.
fn migrate(
    mut connection: Connection,
    is_newest: bool,
    at: Option<(&Path, Option<&Key>)>,
) -> Result<Connection, StoreError> {
    if is_newest {
        return Ok(connection);
    }
    let found = known_version(&connection)?;
    if found == newest_version() {
        has_its_tables(&connection)?;
        return Ok(connection);
    }
    if let Some((path, key)) = at {
        if !tables::are_of(&connection, found)? {
            return Err(StoreError::WrongVersion(found));
        }
        keep_copy(&connection, found, path, key)?;
    }
    begin_log(&connection)?;
    // The version is read again inside: two processes may have started together.
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    run_from(&transaction, known_version(&transaction)?)?;
    book_id::identify(&transaction)?;
    transaction.pragma_update(None, "user_version", newest_version())?;
    transaction.commit()?;
    Ok(connection)
}

/// The version from which a book may hold secrets.
const WITH_SECRETS: i64 = 2;

/// Copies a book of an earlier version beside it, before it is brought up to date.
fn keep_copy(
    connection: &Connection,
    version: i64,
    path: &Path,
    key: Option<&Key>,
) -> Result<(), StoreError> {
    // A file that is put in place of a book later is a copy itself.
    if path.to_string_lossy().ends_with(UNFINISHED) {
        return Ok(());
    }
    // The copy of an encrypted book is opened with the same keys.
    let when: String = now_as_kept().chars().take(19).collect();
    let name = format!(".version-{version}-{}.db", when.replace(':', "-"));
    let kept = disk::side_file(path, &name);
    let why = |e: std::io::Error| StoreError::NoCopy(e.to_string());
    // One that a killed process has left is not in the way.
    let own = format!(".{}{UNFINISHED}", std::process::id());
    let part = Unfinished::make(disk::side_file(&kept, &own)).map_err(why)?;
    let Some(part) = part else {
        return Err(StoreError::Busy);
    };
    copy(connection, &part.file, key).map_err(|e| match e {
        StoreError::Busy => StoreError::Busy,
        e => StoreError::NoCopy(e.to_string()),
    })?;
    // What a PIN could be guessed against stays in the book alone.
    let copied = connect(&part.file, OpenFlags::SQLITE_OPEN_READ_WRITE, key)?;
    copied.pragma_update(None, "secure_delete", true)?;
    if version >= WITH_SECRETS {
        copied.execute("DELETE FROM credential", [])?;
    }
    copied.close().map_err(|(_, e)| e)?;
    if key.is_some() {
        std::fs::copy(keyring_file(path), keyring_file(&kept)).map_err(why)?;
    }
    disk::flush_file(&part.file)
        .and_then(|()| part.finish(&kept))
        .map_err(why)
}

/// Puts the number of a book's version right where its tables are all those of the newest; returns
/// whether it did.
///
/// # Errors
/// [`StoreError`] of the file.
pub(crate) fn mend_version(path: &Path) -> Result<bool, StoreError> {
    if is_encrypted(path) {
        return Ok(false);
    }
    let shown = path.display().to_string();
    refuse_what_is_no_file(path, &shown)?;
    let looked = connect_without_touching(path, None)?;
    let is_ours = looked
        .pragma_query_value(None, "application_id", |r| r.get::<_, i64>(0))
        .is_ok_and(|id| id == i64::from(APPLICATION_ID));
    drop(looked);
    if !is_ours {
        return Ok(false);
    }
    let c = connect(path, OpenFlags::SQLITE_OPEN_READ_WRITE, None)?;
    let found = version(&c)?;
    let is_wrong = found < newest_version() || is_no_version(found);
    if !is_wrong || !tables::compare(&c)?.is_right() {
        return Ok(false);
    }
    c.pragma_update(None, "user_version", newest_version())?;
    Ok(true)
}
