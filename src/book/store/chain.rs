//! The chain of history: what happened, each row bound to all rows before it.
//!
//! `content = H(salt, detail)`, `state` the job or the practice as it was then ([`super::standing`]),
//! `link = H(link before, id, job, time, person, what, content, state)` with H = SHA-256 over parts
//! that carry their lengths.
//! Content and salt are in a separate row: erasing that row leaves no way to guess the content
//! from, and the chain whole. The chain shows any change made past the program; it cannot show that
//! the newest rows are missing together with their changes; for that, the links that
//! backups keep are compared.

use rusqlite::{Connection, OptionalExtension, Row, params};
use sha2::{Digest, Sha256};

use super::completeness;
use super::error::StoreError;
use super::standing::{self, Binds, Differs};

/// A SHA-256 hash.
pub(crate) type Hash = [u8; 32];

/// Bytes of a salt.
const SALT: usize = 16;

/// The link before the first row.
pub(crate) const FIRST: Hash = [0; 32];

pub(super) fn hash(parts: &[&[u8]]) -> Hash {
    let mut sha = Sha256::new();
    for part in parts {
        // The length keeps "ab", "c" and "a", "bc" apart.
        sha.update(u64::try_from(part.len()).unwrap_or(u64::MAX).to_le_bytes());
        sha.update(part);
    }
    sha.finalize().into()
}

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

struct Bound {
    id: i64,
    content: Hash,
    state: Option<Vec<u8>>,
}

fn link(before: &Hash, entry: &HistoryEntry<'_>, bound: &Bound) -> Hash {
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

fn as_hash(bytes: &[u8]) -> Result<Hash, StoreError> {
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

/// A fault that the chain shows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fault {
    /// A row is missing before this one.
    Missing {
        /// Id of the row after the gap.
        id: i64,
    },
    /// The row is not the one that was written.
    Changed {
        /// Its id.
        id: i64,
    },
    /// Its content is gone though the job was not erased.
    ContentGone {
        /// Its id.
        id: i64,
    },
    /// The job is not as its newest row says.
    State {
        /// Number of the job, or its id where it has none.
        job: String,
    },
    /// What was decided about the job is not as its newest row says.
    Decisions {
        /// Number of the job.
        job: String,
    },
    /// The job is gone and was not erased.
    Gone {
        /// Number of the job, as history has it, or its id where it has none.
        job: String,
        /// Id of its newest row.
        id: i64,
    },
    /// The staff list, the settings or a secret are not as the newest row about them says.
    Practice {
        /// What, in a few words.
        what: &'static str,
    },
    /// The list of the numbers of erased jobs is not that of history.
    ErasedNumbers,
    /// The list of jobs as an older book had them is not as it was written.
    AsFound,
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Missing { id } => write!(f, "history has a gap before entry {id}"),
            Self::Changed { id } => write!(f, "entry {id} of history is not as it was written"),
            Self::ContentGone { id } => {
                write!(
                    f,
                    "the content of entry {id} is gone and its job was not erased"
                )
            }
            Self::State { job } => write!(
                f,
                "job {job} does not stand as its history says: it was changed past the program"
            ),
            Self::Decisions { job } => write!(
                f,
                "what was accepted or let through in job {job} is not as its history says: it was changed past the program"
            ),
            Self::Gone { job, id } => write!(
                f,
                "job {job} is gone and was never erased: its history ends at entry {id}"
            ),
            Self::Practice { what } => {
                write!(f, "{what} not as history says: changed past the program")
            }
            Self::ErasedNumbers => f.write_str(
                "the numbers of erased jobs are not those of history: one could be given again",
            ),
            Self::AsFound => f.write_str(
                "the record of the jobs of an older version of the book is not as it was written",
            ),
        }
    }
}

/// Result of checking the chain.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Walk {
    /// How many rows there are.
    pub rows: u64,
    /// What is wrong, in the order of the rows; no more than [`MOST_FAULTS`].
    pub faults: Vec<Fault>,
    /// The newest link.
    pub head: Hash,
}

/// Largest number of faults that are listed.
pub(crate) const MOST_FAULTS: usize = 50;

/// The event that erasing a job leaves.
pub(crate) const ERASED: &str = "erased";
/// The event that erasing some entries of a job's history leaves; its content names them.
pub(crate) const ENTRIES_ERASED: &str = "entries erased";
/// The event that giving a wearer their record leaves.
pub(crate) const ACCESS_GIVEN: &str = "access given";

/// Walks the whole chain and compares every job with the newest row about it.
///
/// # Errors
/// [`StoreError`] of the file.
pub(crate) fn walk(c: &Connection) -> Result<Walk, StoreError> {
    let mut found = Walk::default();
    let mut before = FIRST;
    let mut expected = 1;
    // Whether it was erased is asked only where a content is gone: for every row it would be most of
    // the walk.
    let mut statement = c.prepare(
        "SELECT h.id, h.job_id, h.at, h.by, h.what, h.content, h.state, h.link, d.salt, d.detail,
                CASE WHEN d.id IS NULL THEN
                    EXISTS (SELECT 1 FROM history e WHERE e.job_id = h.job_id AND e.what = ?1 AND e.id > h.id)
                    OR EXISTS (SELECT 1 FROM history e JOIN history_detail n ON n.id = e.id,
                                             json_each(CASE WHEN json_valid(n.detail) THEN n.detail ELSE '{}' END, '$.entries') g
                               WHERE e.job_id = h.job_id AND e.what = ?2 AND e.id > h.id AND g.value = h.id)
                ELSE 0 END
         FROM history h LEFT JOIN history_detail d ON d.id = h.id ORDER BY h.id",
    )?;
    let mut rows = statement.query([ERASED, ENTRIES_ERASED])?;
    while let Some(row) = rows.next()? {
        found.rows += 1;
        let id: i64 = row.get(0)?;
        if id != expected {
            found.note(Fault::Missing { id });
        }
        expected = id + 1;
        // A link of the wrong length is a changed one, and the next row shows it too.
        let written = as_hash(&row.get::<_, Vec<u8>>(7)?).unwrap_or(FIRST);
        match look(row, id, &before) {
            Ok(Some(fault)) => found.note(fault),
            Ok(None) => {}
            Err(_) => found.note(Fault::Changed { id }),
        }
        before = written;
    }
    found.head = before;
    states(c, &mut found)?;
    practice(c, &mut found)?;
    completeness::look(c, &mut found)?;
    Ok(found)
}

impl Walk {
    pub(super) fn note(&mut self, fault: Fault) {
        if self.faults.len() < MOST_FAULTS {
            self.faults.push(fault);
        }
    }
}

fn look(row: &Row<'_>, id: i64, before: &Hash) -> Result<Option<Fault>, StoreError> {
    let (at, by, what): (String, Option<String>, String) = (row.get(2)?, row.get(3)?, row.get(4)?);
    let content = as_hash(&row.get::<_, Vec<u8>>(5)?)?;
    let state: Option<Vec<u8>> = row.get(6)?;
    let written = as_hash(&row.get::<_, Vec<u8>>(7)?)?;
    let salt: Option<Vec<u8>> = row.get(8)?;
    let detail: Option<String> = row.get(9)?;
    let entry = HistoryEntry {
        job_id: row.get(1)?,
        at: &at,
        by: by.as_deref(),
        what: &what,
        detail: detail.as_deref().unwrap_or(""),
    };
    let bound = Bound { id, content, state };
    if link(before, &entry, &bound) != written {
        return Ok(Some(Fault::Changed { id }));
    }
    Ok(match salt {
        None => (!row.get::<_, bool>(10)?).then_some(Fault::ContentGone { id }),
        Some(salt) => {
            (hash(&[&salt, entry.detail.as_bytes()]) != content).then_some(Fault::Changed { id })
        }
    })
}

/// Compares every job with the newest row of history about it.
fn states(c: &Connection, found: &mut Walk) -> Result<(), StoreError> {
    let mut statement = c.prepare(STATES)?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let id: i64 = row.get(0)?;
        // Of a damaged row the number may be unreadable too.
        let job = row.get(1).unwrap_or_else(|_| format!("of id {id}"));
        let compared = row
            .get::<_, Option<Vec<u8>>>(2)
            .and_then(|state| Ok((state, row.get::<_, Option<Vec<u8>>>(3)?)))
            .map_err(StoreError::from)
            .and_then(|(state, salt)| {
                standing::job_differs(c, id, state.as_deref(), salt.as_deref())
            });
        match compared {
            Ok(None) => {}
            Ok(Some(Differs::Decisions)) => found.note(Fault::Decisions { job }),
            Err(e @ StoreError::Busy) => return Err(e),
            Ok(Some(_)) | Err(_) => found.note(Fault::State { job }),
        }
    }
    Ok(())
}

/// Compares staff list, settings and secrets with the newest row that binds them.
fn practice(c: &Connection, found: &mut Walk) -> Result<(), StoreError> {
    for part in standing::practice_differs(c)? {
        let what = match part {
            Differs::Staff => "the staff list is",
            Differs::Secrets => "a PIN or passphrase is",
            _ => "the settings are",
        };
        found.note(Fault::Practice { what });
    }
    Ok(())
}
