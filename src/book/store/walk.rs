//! Walking the chain of history, and comparing jobs and practice with it.

use rusqlite::{Connection, Row};

use super::chain::{Bound, ENTRIES_ERASED, ERASED, HistoryEntry, STATES, as_hash, link};
use super::completeness;
use super::error::StoreError;
use super::fault::{Fault, Walk};
use super::hash::{FIRST, Hash, hash};
use super::standing::{self, Differs};

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
