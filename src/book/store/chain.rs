//! The chain of history: what happened, each row bound to all rows before it.
//!
//! `content = H(salt, detail)`, `state` the job or the practice as it was then ([`super::standing`]),
//! `link = H(link before, id, job, time, person, what, content, state)` with H = SHA-256 over parts
//! that carry their lengths.
//! Content and salt are in a separate row: erasing that row leaves no way to guess the content
//! from, and the chain whole. The chain shows any change made past the program; it cannot show that
//! the newest rows are missing together with their changes; for that, the links that
//! backups keep are compared.

use rusqlite::{Connection, OptionalExtension, params};

use super::error::StoreError;
use super::hash::{FIRST, Hash, hash};
use super::standing::{self, Binds};

/// Bytes of a salt.
const SALT: usize = 16;

/// One row of history, before it is bound.
#[derive(Debug, Clone, Copy)]
pub(crate) struct HistoryEntry<'a> {
    /// Id of the job; `None` for an event of the practice.
    pub job_id: Option<i64>,
    /// When, as it is stored.
    pub at: &'a str,
    /// Who; `None` for the program itself.
    pub by: Option<&'a str>,
    /// What.
    pub what: &'a str,
    /// The content, as JSON text.
    pub detail: &'a str,
}

pub(super) struct Bound {
    pub(super) id: i64,
    pub(super) content: Hash,
    pub(super) state: Option<Vec<u8>>,
}

pub(super) fn link(before: &Hash, entry: &HistoryEntry<'_>, bound: &Bound) -> Hash {
    let job = entry.job_id.map(i64::to_le_bytes);
    let state = bound.state.as_deref().unwrap_or_default();
    hash(&[
        before,
        &bound.id.to_le_bytes(),
        job.as_ref().map_or(&[][..], |j| &j[..]),
        entry.at.as_bytes(),
        // A person always has a name: an empty text and `None` need not be distinguished.
        entry.by.unwrap_or("").as_bytes(),
        entry.what.as_bytes(),
        &bound.content,
        state,
    ])
}

/// The newest row.
pub(crate) const HEAD: &str = "SELECT id, link FROM history ORDER BY id DESC LIMIT 1";
/// Every job with the newest row about it.
pub(crate) const STATES: &str = "SELECT j.id, j.number, h.state, d.salt
     FROM job j
     LEFT JOIN history h ON h.id = (SELECT max(id) FROM history WHERE job_id = j.id)
     LEFT JOIN history_detail d ON d.id = h.id";

/// The id and the link of the newest row.
pub(crate) type Head = (i64, Hash);

/// Returns the id and the link of the newest row.
///
/// # Errors
/// [`StoreError`] of the file.
pub(crate) fn head(c: &Connection) -> Result<Head, StoreError> {
    let newest: Option<(i64, Vec<u8>)> = c
        .prepare_cached(HEAD)?
        .query_row([], |r| Ok((r.get(0)?, r.get(1)?)))
        .optional()?;
    match newest {
        None => Ok((0, FIRST)),
        Some((id, link)) => Ok((id, as_hash(&link)?)),
    }
}

pub(super) fn as_hash(bytes: &[u8]) -> Result<Hash, StoreError> {
    bytes.try_into().map_err(|_| StoreError::Content("a link"))
}

/// Adds a row, bound to the one before; it binds the job or the practice as this write has left it.
///
/// # Errors
/// [`StoreError`] of the file, or when the system gives no random bytes.
pub(crate) fn append(
    c: &Connection,
    entry: &HistoryEntry<'_>,
    binds: Binds,
) -> Result<(), StoreError> {
    append_to(c, head(c)?, entry, binds).map(drop)
}

/// Adds a row to a chain whose newest row the caller knows, for adding many; returns the
/// new one.
///
/// # Errors
/// As [`append`].
pub(super) fn append_to(
    c: &Connection,
    (newest, before): Head,
    entry: &HistoryEntry<'_>,
    binds: Binds,
) -> Result<Head, StoreError> {
    let mut salt = [0; SALT];
    getrandom::fill(&mut salt).map_err(|_| StoreError::NoRandom)?;
    let bound = Bound {
        id: newest + 1,
        content: hash(&[&salt, entry.detail.as_bytes()]),
        state: standing::state(c, binds, &salt)?,
    };
    let link = link(&before, entry, &bound);
    c.prepare_cached(
        "INSERT INTO history (id, job_id, at, by, what, content, state, link) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
    )?
    .execute(params![
        bound.id,
        entry.job_id,
        entry.at,
        entry.by,
        entry.what,
        bound.content,
        bound.state,
        link
    ])?;
    c.prepare_cached("INSERT INTO history_detail (id, salt, detail) VALUES (?1, ?2, ?3)")?
        .execute(params![bound.id, salt, entry.detail])?;
    Ok((bound.id, link))
}

/// The event that erasing a job leaves.
pub(crate) const ERASED: &str = "erased";
/// The event that erasing some entries of a job's history leaves; its content names them.
pub(crate) const ENTRIES_ERASED: &str = "entries erased";
/// The event that giving a wearer their record leaves.
pub(crate) const ACCESS_GIVEN: &str = "access given";
