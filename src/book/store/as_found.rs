//! Migration of books whose history binds the content of a job alone.

use rusqlite::{Connection, params};
use serde_json::json;

use super::book_id;
use super::chain::{self, HistoryEntry};
use super::completeness::{BROUGHT_UP_TO_DATE, as_found_hash};
use super::error::StoreError;
use super::hash::Hash;
use super::standing::{self, Binds};
use super::times::now_as_kept;

/// Keeps what each job was when it was found, with the salt of its newest entry, so that nothing can be
/// guessed from it once the job is erased; one entry of history binds all of that and the practice.
///
/// # Errors
/// [`StoreError`] of the file.
pub(super) fn bind_as_found(c: &Connection) -> Result<(), StoreError> {
    let mut statement = c.prepare(
        "SELECT j.id, d.salt FROM job j
         JOIN history h ON h.id = (SELECT max(id) FROM history WHERE job_id = j.id)
         JOIN history_detail d ON d.id = h.id WHERE length(h.state) = ?1",
    )?;
    let mut insert = c.prepare("INSERT INTO job_as_found (job_id, state) VALUES (?1, ?2)")?;
    let mut rows = statement.query([i64::try_from(size_of::<Hash>()).unwrap_or(0)])?;
    while let Some(row) = rows.next()? {
        let (id, salt): (i64, Vec<u8>) = (row.get(0)?, row.get(1)?);
        insert.execute(params![id, standing::state(c, Binds::Job(id), &salt)?])?;
    }
    let is_begun = c
        .prepare("SELECT 1 FROM history UNION ALL SELECT 1 FROM staff")?
        .exists([])?;
    if !is_begun {
        return Ok(());
    }
    // The settings are bound with the id among them.
    book_id::identify(c)?;
    let detail = json!({"jobs_hash": as_found_hash(c)?}).to_string();
    let entry = HistoryEntry {
        job_id: None,
        at: &now_as_kept(),
        by: None,
        what: BROUGHT_UP_TO_DATE,
        detail: &detail,
    };
    chain::append(c, &entry, Binds::Practice)
}
