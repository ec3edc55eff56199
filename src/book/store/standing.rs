//! What the newest entry of history binds: a job with all that was decided about it, or the practice.
//!
//! A state is one byte for its form and then hashes, each over the salt of its entry. Of a job: its row
//! (number, revision, content, open questions), then its acceptances and the gates it passed. Of the
//! practice: the staff list, the settings, then a short hash for each person's secret. Older entries
//! hold one hash over the content of the job alone; what else such a job was is in `job_as_found`.

use rusqlite::types::ValueRef;
use rusqlite::{Connection, OptionalExtension, Row};
use sha2::{Digest, Sha256};

use super::error::StoreError;
use super::hash::{Hash, hash};
use super::settings::UNBOUND;

/// The first byte of a state as it is written now.
const FORM: u8 = 2;
/// Bytes of the hash of one secret: enough to tell two apart, nothing to guess from.
const SECRET: usize = 16;

/// What an entry of history binds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Binds {
    /// Nothing but itself.
    Nothing,
    /// The job of this id as it is in this write.
    Job(i64),
    /// Staff list, settings and secrets as they are in this write.
    Practice,
}

/// A part that is not as the newest entry says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Differs {
    /// The row of a job.
    Job,
    /// Acceptances, or gates passed.
    Decisions,
    /// The staff list.
    Staff,
    /// Settings.
    Settings,
    /// Secrets.
    Secrets,
}

/// Adds a value to a hash with its kind and length, whatever a damaged file has there.
fn add(sha: &mut Sha256, value: ValueRef<'_>) {
    let mut part = |kind: u8, bytes: &[u8]| {
        sha.update([kind]);
        sha.update(u64::try_from(bytes.len()).unwrap_or(u64::MAX).to_le_bytes());
        sha.update(bytes);
    };
    match value {
        ValueRef::Null => part(0, &[]),
        ValueRef::Integer(n) => part(1, &n.to_le_bytes()),
        ValueRef::Real(x) => part(2, &x.to_le_bytes()),
        ValueRef::Text(bytes) => part(3, bytes),
        ValueRef::Blob(bytes) => part(4, bytes),
    }
}

fn add_row(sha: &mut Sha256, row: &Row<'_>, columns: usize) -> Result<(), StoreError> {
    for column in 0..columns {
        add(sha, row.get_ref(column)?);
    }
    Ok(())
}

/// Returns the hash over all rows of a query.
fn rows(
    c: &Connection,
    salt: &[u8],
    sql: &str,
    with: &[&dyn rusqlite::ToSql],
) -> Result<Hash, StoreError> {
    let mut sha = Sha256::new();
    add(&mut sha, ValueRef::Blob(salt));
    let mut statement = c.prepare_cached(sql)?;
    let columns = statement.column_count();
    let mut rows = statement.query(with)?;
    while let Some(row) = rows.next()? {
        add_row(&mut sha, row, columns)?;
    }
    Ok(sha.finalize().into())
}

/// The row of a job.
pub(super) const JOB: &str = "SELECT number, revision, content, question FROM job WHERE id = ?1";
/// What was decided about a job. The number in front keeps the two tables apart.
pub(super) const DECISIONS: &str =
    "SELECT 1, id, content, NULL, NULL FROM acceptance WHERE job_id = ?1
     UNION ALL SELECT 2, id, gate, stands, content FROM passed WHERE job_id = ?1 ORDER BY 1, 2";
const STAFF: &str = "SELECT name, content FROM staff ORDER BY name";

fn job_row(c: &Connection, id: i64, salt: &[u8]) -> Result<Option<Hash>, StoreError> {
    let mut sha = Sha256::new();
    add(&mut sha, ValueRef::Blob(salt));
    let mut statement = c.prepare_cached(JOB)?;
    let mut rows = statement.query([id])?;
    let Some(row) = rows.next()? else {
        return Ok(None);
    };
    add_row(&mut sha, row, 4)?;
    Ok(Some(sha.finalize().into()))
}

fn settings(c: &Connection, salt: &[u8]) -> Result<Hash, StoreError> {
    let unbound = UNBOUND.map(|name| format!("'{name}'")).join(", ");
    let sql =
        format!("SELECT name, content FROM setting WHERE name NOT IN ({unbound}) ORDER BY name");
    rows(c, salt, &sql, &[])
}

fn secrets(c: &Connection, salt: &[u8]) -> Result<Vec<u8>, StoreError> {
    let mut statement = c.prepare_cached("SELECT name, secret FROM credential ORDER BY name")?;
    let mut rows = statement.query([])?;
    let mut all = Vec::new();
    while let Some(row) = rows.next()? {
        let mut sha = Sha256::new();
        add(&mut sha, ValueRef::Blob(salt));
        add_row(&mut sha, row, 2)?;
        all.extend_from_slice(sha.finalize().get(..SECRET).unwrap_or_default());
    }
    Ok(all)
}

/// Returns the state to be written with an entry; `None` where it binds nothing, or the job is gone.
///
/// # Errors
/// [`StoreError`] of the file.
pub(super) fn state(
    c: &Connection,
    binds: Binds,
    salt: &[u8],
) -> Result<Option<Vec<u8>>, StoreError> {
    let parts = match binds {
        Binds::Nothing => return Ok(None),
        Binds::Job(id) => {
            let Some(job) = job_row(c, id, salt)? else {
                return Ok(None);
            };
            [job.to_vec(), rows(c, salt, DECISIONS, &[&id])?.to_vec()].concat()
        }
        Binds::Practice => [
            rows(c, salt, STAFF, &[])?.to_vec(),
            settings(c, salt)?.to_vec(),
            secrets(c, salt)?,
        ]
        .concat(),
    };
    Ok(Some([vec![FORM], parts].concat()))
}

/// The state of a job of an older book as it was found when the book was brought up to date.
pub(super) const AS_FOUND: &str = "SELECT state FROM job_as_found WHERE job_id = ?1";

/// Compares a job with the newest state about it; `None` when it is as it says.
///
/// # Errors
/// [`StoreError`] of the file.
pub(super) fn job_differs(
    c: &Connection,
    id: i64,
    state: Option<&[u8]>,
    salt: Option<&[u8]>,
) -> Result<Option<Differs>, StoreError> {
    let (Some(state), Some(salt)) = (state, salt) else {
        return Ok(Some(Differs::Job));
    };
    if state.first() == Some(&FORM) && state.len() > size_of::<Hash>() {
        return parts_differ(c, id, state, salt);
    }
    // Of an earlier version of the book: the content, and the rest as it was found.
    let content: Option<Hash> = c
        .prepare_cached("SELECT content FROM job WHERE id = ?1")?
        .query_row([id], |r| Ok(hash(&[salt, r.get_ref(0)?.as_bytes()?])))
        .optional()?;
    if content.is_none_or(|found| found[..] != *state) {
        return Ok(Some(Differs::Job));
    }
    let found: Option<Vec<u8>> = c
        .prepare_cached(AS_FOUND)?
        .query_row([id], |r| r.get(0))
        .optional()?;
    match found {
        Some(state) => parts_differ(c, id, &state, salt),
        None => Ok(Some(Differs::Decisions)),
    }
}

fn parts_differ(
    c: &Connection,
    id: i64,
    state: &[u8],
    salt: &[u8],
) -> Result<Option<Differs>, StoreError> {
    let now = self::state(c, Binds::Job(id), salt)?.unwrap_or_default();
    let row = 1..1 + size_of::<Hash>();
    Ok(if now == state {
        None
    } else if now.get(row.clone()) != state.get(row) {
        Some(Differs::Job)
    } else {
        Some(Differs::Decisions)
    })
}

/// The newest entry about a job: its state and its salt.
pub(super) const NEWEST: &str = "SELECT h.state, d.salt FROM history h
     LEFT JOIN history_detail d ON d.id = h.id WHERE h.job_id = ?1 ORDER BY h.id DESC LIMIT 1";

/// State and salt, each where there is one.
type Newest = (Option<Vec<u8>>, Option<Vec<u8>>);

/// Compares a job with the newest entry of history about it.
///
/// # Errors
/// [`StoreError`] of the file.
pub(super) fn is_as_history_says(c: &Connection, id: i64) -> Result<bool, StoreError> {
    let newest: Option<Newest> = c
        .prepare_cached(NEWEST)?
        .query_row([id], |r| Ok((r.get(0)?, r.get(1)?)))
        .optional()?;
    let (state, salt) = newest.unwrap_or_default();
    Ok(job_differs(c, id, state.as_deref(), salt.as_deref())?.is_none())
}

/// Compares staff list, settings and secrets with the newest entry that binds them; returns what is
/// not as it says. A secret that is gone is no difference: a copy may be made without them.
///
/// # Errors
/// [`StoreError`] of the file.
pub(super) fn practice_differs(c: &Connection) -> Result<Vec<Differs>, StoreError> {
    let newest: Option<(Vec<u8>, Option<Vec<u8>>)> = c
        .prepare_cached(
            "SELECT h.state, d.salt FROM history h LEFT JOIN history_detail d ON d.id = h.id
             WHERE h.job_id IS NULL AND h.state IS NOT NULL ORDER BY h.id DESC LIMIT 1",
        )?
        .query_row([], |r| Ok((r.get(0)?, r.get(1)?)))
        .optional()?;
    let Some((state, salt)) = newest else {
        // Nothing has been set in this book yet.
        return never_set(c);
    };
    let salt = salt.unwrap_or_default();
    let size = size_of::<Hash>();
    let part = |from: usize| state.get(1 + from * size..1 + (from + 1) * size);
    let mut all = Vec::new();
    if part(0) != Some(&rows(c, &salt, STAFF, &[])?) {
        all.push(Differs::Staff);
    }
    if part(1) != Some(&settings(c, &salt)?) {
        all.push(Differs::Settings);
    }
    let bound = state.get(1 + 2 * size..).unwrap_or_default();
    let is_bound = |secret: &[u8]| bound.chunks(SECRET).any(|b| b == secret);
    if !secrets(c, &salt)?.chunks(SECRET).all(is_bound) {
        all.push(Differs::Secrets);
    }
    Ok(all)
}

fn never_set(c: &Connection) -> Result<Vec<Differs>, StoreError> {
    let any = |sql: &str| -> Result<bool, StoreError> { Ok(c.prepare(sql)?.exists([])?) };
    let mut all = Vec::new();
    if any("SELECT 1 FROM staff")? {
        all.push(Differs::Staff);
    }
    let unbound = UNBOUND.map(|name| format!("'{name}'")).join(", ");
    if any(&format!(
        "SELECT 1 FROM setting WHERE name NOT IN ({unbound}, 'book_id')"
    ))? {
        all.push(Differs::Settings);
    }
    if any("SELECT 1 FROM credential")? {
        all.push(Differs::Secrets);
    }
    Ok(all)
}
