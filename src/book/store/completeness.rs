//! Whether everything that history knows of is still there.

use std::collections::BTreeSet;

use rusqlite::Connection;
use sha2::{Digest, Sha256};

use super::book_id::hex;
use super::chain::ERASED;
use super::error::StoreError;
use super::fault::{Fault, Walk};
use super::settings::{self, ERASED_NUMBERS};

/// The jobs of history that are neither in the book nor erased: id, number as its first entries have
/// it, newest entry.
const GONE: &str = "SELECT h.job_id,
        (SELECT d.detail ->> '$.job.number' FROM history f JOIN history_detail d ON d.id = f.id
         WHERE f.job_id = h.job_id AND json_valid(d.detail) AND d.detail ->> '$.job.number' IS NOT NULL
         ORDER BY f.id LIMIT 1),
        max(h.id)
     FROM history h
     WHERE h.job_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM job WHERE id = h.job_id)
     GROUP BY h.job_id
     HAVING NOT EXISTS (SELECT 1 FROM history e WHERE e.job_id = h.job_id AND e.what = ?1)
     ORDER BY h.job_id";

/// Adds the faults of jobs and numbers that are missing.
///
/// # Errors
/// [`StoreError`] of the file.
pub(super) fn look(c: &Connection, found: &mut Walk) -> Result<(), StoreError> {
    let mut statement = c.prepare(GONE)?;
    let mut rows = statement.query([ERASED])?;
    while let Some(row) = rows.next()? {
        let id: i64 = row.get(0)?;
        let number: Option<String> = row.get(1)?;
        found.note(Fault::Gone {
            job: number.unwrap_or_else(|| format!("of id {id}")),
            id: row.get(2)?,
        });
    }
    // A list that cannot be read is not that of history either.
    let kept: Option<BTreeSet<String>> = settings::setting(c, ERASED_NUMBERS).unwrap_or_default();
    if kept.unwrap_or_default() != erased_numbers(c)? {
        found.note(Fault::ErasedNumbers);
    }
    if as_found_is_changed(c)? {
        found.note(Fault::AsFound);
    }
    Ok(())
}

/// The numbers that the erasures of history name; a number that tells the name is in none.
fn erased_numbers(c: &Connection) -> Result<BTreeSet<String>, StoreError> {
    let mut statement = c.prepare(
        "SELECT d.detail ->> '$.number' FROM history h JOIN history_detail d ON d.id = h.id
         WHERE h.what = ?1 AND json_valid(d.detail) AND d.detail ->> '$.number' IS NOT NULL",
    )?;
    let rows = statement.query_map([ERASED], |r| r.get(0))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// The event of a book that was brought to the version from which history binds more than the
/// content of a job.
pub(super) const BROUGHT_UP_TO_DATE: &str = "book brought up to date";

/// Returns the hash over the jobs as an older book had them.
pub(super) fn as_found_hash(c: &Connection) -> Result<String, StoreError> {
    let mut statement = c.prepare("SELECT job_id, state FROM job_as_found ORDER BY job_id")?;
    let mut rows = statement.query([])?;
    let mut sha = Sha256::new();
    while let Some(row) = rows.next()? {
        sha.update(row.get::<_, i64>(0)?.to_le_bytes());
        let state: Vec<u8> = row.get(1)?;
        sha.update(u64::try_from(state.len()).unwrap_or(u64::MAX).to_le_bytes());
        sha.update(&state);
    }
    Ok(hex(&sha.finalize()))
}

fn as_found_is_changed(c: &Connection) -> Result<bool, StoreError> {
    let mut statement = c.prepare(
        "SELECT d.detail ->> '$.jobs_hash' FROM history h JOIN history_detail d ON d.id = h.id
         WHERE h.job_id IS NULL AND h.what = ?1 AND json_valid(d.detail) ORDER BY h.id DESC LIMIT 1",
    )?;
    let mut rows = statement.query([BROUGHT_UP_TO_DATE])?;
    match rows.next()? {
        Some(row) => Ok(row.get::<_, Option<String>>(0)? != Some(as_found_hash(c)?)),
        None => Ok(c.prepare("SELECT 1 FROM job_as_found")?.exists([])?),
    }
}
