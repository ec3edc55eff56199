//! Turning a plain book into an encrypted one.

use std::fs::File;
use std::io::{Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use rusqlite::{Connection, OpenFlags, params};

use super::book::Store;
use super::error::StoreError;
use super::hash::Hash;
use super::key::Key;
use super::{chain, connection};

/// Zeros written at a time.
const BLOCK: usize = 16 * 1024;

/// Encrypts a book: an encrypted copy is written, read back, and replaces the plain file.
///
/// The plain file is overwritten as far as the file system lets one: what a disk or its snapshots
/// keep elsewhere is not reached.
///
/// # Errors
/// [`StoreError::Busy`] while anybody else has the book open; otherwise as [`Store::open`]. The book
/// is then as it was.
pub(crate) fn encrypt(path: &Path, key: &Key) -> Result<(), StoreError> {
    // As the whole program opens it: a foreign, newer or damaged file is refused here.
    drop(Store::open(path)?);
    let mut part = path.as_os_str().to_owned();
    part.push(format!(".{}.part", std::process::id()));
    let part = PathBuf::from(part);
    let done = copy(path, &part, key).and_then(|()| take_place(path, &part));
    if done.is_err() {
        // Half a copy has no use; the first failure is reported.
        std::fs::remove_file(&part).unwrap_or_default();
    }
    done
}

fn copy(path: &Path, part: &Path, key: &Key) -> Result<(), StoreError> {
    let plain = connection::connect(path, OpenFlags::SQLITE_OPEN_READ_WRITE, None)?;
    // One log file less, and nobody else may have the book open for it.
    let mode: String =
        plain.pragma_update_and_check(None, "journal_mode", "DELETE", |r| r.get(0))?;
    if mode != "delete" {
        return Err(StoreError::Busy);
    }
    plain.execute_batch("BEGIN EXCLUSIVE")?;
    let before = what_it_holds(&plain)?;
    plain.execute_batch("ROLLBACK")?;
    connection::private_file(part).map_err(|e| StoreError::Directory(e.kind()))?;
    plain.execute(
        "ATTACH DATABASE ?1 AS sealed KEY ?2",
        params![part.to_string_lossy(), key.literal().as_str()],
    )?;
    plain.query_row("SELECT sqlcipher_export('sealed')", [], |_| Ok(()))?;
    for name in ["application_id", "user_version"] {
        let value: i64 = plain.pragma_query_value(None, name, |r| r.get(0))?;
        plain.pragma_update(Some("sealed"), name, value)?;
    }
    plain.execute_batch("DETACH DATABASE sealed")?;
    drop(plain);
    let sealed = Store::open_with(part, key.clone())?;
    let whole: String = sealed
        .connection
        .pragma_query_value(None, "integrity_check", |r| r.get(0))?;
    if whole != "ok" || what_it_holds(&sealed.connection)? != before {
        return Err(StoreError::Damaged);
    }
    // The last connection folds the log into the file and removes it.
    drop(sealed);
    File::open(part)
        .and_then(|f| f.sync_all())
        .map_err(|e| StoreError::Directory(e.kind()))
}

/// The end of the chain and the number of rows, to compare both files.
fn what_it_holds(c: &Connection) -> Result<(i64, Hash, i64, i64), StoreError> {
    let (id, link) = chain::head(c)?;
    let count =
        |table: &str| c.query_row(&format!("SELECT count(*) FROM {table}"), [], |r| r.get(0));
    Ok((id, link, count("job")?, count("history_detail")?))
}

fn take_place(path: &Path, part: &Path) -> Result<(), StoreError> {
    let failed = |e: std::io::Error| StoreError::Directory(e.kind());
    let mut plain = File::options().write(true).open(path).map_err(failed)?;
    std::fs::rename(part, path).map_err(failed)?;
    if let Some(directory) = path.parent().filter(|d| !d.as_os_str().is_empty()) {
        File::open(directory)
            .and_then(|d| d.sync_all())
            .map_err(failed)?;
    }
    // The book is encrypted by now; a failure to overwrite its old blocks does not undo that.
    overwrite(&mut plain).unwrap_or_default();
    Ok(())
}

fn overwrite(file: &mut File) -> std::io::Result<()> {
    let mut remaining = file.metadata()?.len();
    file.seek(SeekFrom::Start(0))?;
    let zeros = [0; BLOCK];
    while remaining > 0 {
        let now = usize::try_from(remaining).unwrap_or(BLOCK).min(BLOCK);
        file.write_all(zeros.get(..now).unwrap_or(&zeros))?;
        remaining -= now as u64;
    }
    file.sync_all()
}
