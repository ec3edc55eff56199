//! Writing all that can be read of a damaged book into a new one.
//!
//! Every row is read by itself: one that cannot be read costs no other. The new book has another id, so
//! that it is never taken for the old one when backups are rotated. Its history is a new chain: every entry
//! that could be read, and one that names the old book. It holds no secrets: everybody sets theirs again, as
//! after a restore on another machine.

use std::path::Path;

use chrono::NaiveDate;
use rusqlite::{Connection, OpenFlags, params};
use serde_json::{Value, json};

use super::book::Store;
use super::book_id::BOOK_ID;
use super::chain::{self, ENTRIES_ERASED, ERASED, HistoryEntry};
use super::connection::connect;
use super::error::StoreError;
use super::holding_checks::Held;
use super::key::Key;
use super::row::{self, RowExtras, job_from, questions_from};
use super::settings::{ERASED_NUMBERS, LAST_BACKUP, SWEEP_DUE};
use super::standing::Binds;
use super::times::{local_time, now_as_kept};
use crate::job::{Gate, StaffMember};
use crate::judge::gate::Acceptance;
use crate::practice::Practice;

/// The event that a salvage leaves in the new book.
const SALVAGED: &str = "salvaged";

/// What became of a salvage.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Salvaged {
    /// Numbers of the jobs that are in the new book.
    pub jobs: Vec<String>,
    /// What could not be read, a sentence part each.
    pub left_out: Vec<String>,
}

/// The largest id of a table, however much of it can be read; 0 where nothing can.
fn newest(c: &Connection, table: &str) -> i64 {
    c.query_row(&format!("SELECT max(rowid) FROM {table}"), [], |r| {
        r.get::<_, Option<i64>>(0)
    })
    .ok()
    .flatten()
    .unwrap_or(0)
}

/// Reads each row of a table by its own id; those that fail are counted by `lost`.
fn each<T>(
    c: &Connection,
    table: &str,
    columns: &str,
    mut read: impl FnMut(&rusqlite::Row<'_>) -> Option<T>,
    mut lost: impl FnMut(i64),
) -> Result<Vec<(i64, T)>, StoreError> {
    let mut all = Vec::new();
    let mut statement = c.prepare(&format!("SELECT {columns} FROM {table} WHERE rowid = ?1"))?;
    for id in 1..=newest(c, table) {
        let found = statement
            .query([id])
            .and_then(|mut rows| Ok(rows.next()?.map(&mut read)));
        match found {
            Ok(None) => {}
            Ok(Some(Some(value))) => all.push((id, value)),
            Ok(Some(None)) | Err(_) => lost(id),
        }
    }
    Ok(all)
}

fn text(row: &rusqlite::Row<'_>, column: usize) -> Option<String> {
    row.get(column).ok()
}

/// Salvages a book into a new file.
///
/// # Errors
/// [`StoreError`] when the new book cannot be written, or the old one cannot be opened at all.
pub(crate) fn salvage(book: &Path, key: Option<&Key>, into: &Path) -> Result<Salvaged, StoreError> {
    let from = connect(book, OpenFlags::SQLITE_OPEN_READ_ONLY, key)?;
    // A damaged index is not to hide rows that are there.
    from.pragma_update(None, "cell_size_check", false)?;
    let mut to = Store::create(into)?;
    let write = to.write()?;
    let mut said = Salvaged::default();
    practice(&from, &write.transaction, &mut said)?;
    let jobs = jobs(&from, &write.transaction, &mut said)?;
    decisions(&from, &write.transaction, &jobs, &mut said)?;
    history(&from, &write.transaction, &jobs, &mut said)?;
    let at = now_as_kept();
    for id in &jobs {
        let entry = HistoryEntry {
            job_id: Some(*id),
            at: &at,
            by: None,
            what: SALVAGED,
            detail: "{}",
        };
        chain::append(&write.transaction, &entry, Binds::Job(*id))?;
    }
    let detail = json!({
        "from": book.file_name().map(|n| n.to_string_lossy()),
        "jobs": said.jobs.len(),
        "left_out": said.left_out,
    })
    .to_string();
    let entry = HistoryEntry {
        job_id: None,
        at: &at,
        by: None,
        what: SALVAGED,
        detail: &detail,
    };
    chain::append(&write.transaction, &entry, Binds::Practice)?;
    write.commit()?;
    Ok(said)
}

fn practice(from: &Connection, to: &Connection, said: &mut Salvaged) -> Result<(), StoreError> {
    let lost = &mut said.left_out;
    let staff = each(
        from,
        "staff",
        "name, content",
        |r| {
            let content = text(r, 1)?;
            serde_json::from_str::<StaffMember>(&content).ok()?;
            Some((text(r, 0)?, content))
        },
        |_| lost.push("a person of the staff list".to_owned()),
    )?;
    for (_, (name, content)) in staff {
        to.execute("INSERT INTO staff VALUES (?1, ?2)", [name, content])?;
    }
    let settings = each(
        from,
        "setting",
        "name, content",
        |r| {
            let (name, content) = (text(r, 0)?, text(r, 1)?);
            let is_read = if name == "practice" {
                serde_json::from_str::<Practice>(&content).is_ok()
            } else {
                serde_json::from_str::<Value>(&content).is_ok()
            };
            is_read.then_some((name, content))
        },
        |_| lost.push("a setting".to_owned()),
    )?;
    for (_, (name, content)) in settings {
        if ![BOOK_ID, LAST_BACKUP, SWEEP_DUE, ERASED_NUMBERS].contains(&name.as_str()) {
            to.execute("INSERT INTO setting VALUES (?1, ?2)", [name, content])?;
        }
    }
    Ok(())
}

/// Writes the jobs; returns the ids of those that are in the new book.
fn jobs(
    from: &Connection,
    to: &rusqlite::Transaction<'_>,
    said: &mut Salvaged,
) -> Result<Vec<i64>, StoreError> {
    let mut lost = Vec::new();
    let found = each(
        from,
        "job",
        "number, revision, content, question",
        |r| {
            let content = text(r, 2)?;
            let job = job_from(&content).ok()?;
            let questions = match r.get::<_, Option<String>>(3).ok()? {
                Some(text) => questions_from(&text).ok()?,
                None => Vec::new(),
            };
            let number = job.number.clone().or_else(|| text(r, 0))?;
            Some((number, r.get::<_, i64>(1).ok()?, job, content, questions))
        },
        |id| lost.push(id),
    )?;
    let mut ids = Vec::new();
    for (id, (number, revision, job, content, questions)) in found {
        let extras = RowExtras {
            held: &Held::default(),
            // Judged when it is next listed: older than any day.
            held_on: NaiveDate::from_ymd_opt(1, 1, 1).unwrap_or_default(),
            questions: &questions,
        };
        if said.jobs.contains(&number) {
            lost.push(id);
            continue;
        }
        row::insert(to, id, &number, &job, revision.max(1), extras, &content)?;
        said.jobs.push(number);
        ids.push(id);
    }
    for id in lost {
        let number: Option<String> = from
            .query_row("SELECT number FROM job WHERE rowid = ?1", [id], |r| {
                r.get(0)
            })
            .ok();
        let job = number.unwrap_or_else(|| format!("of id {id}"));
        said.left_out.push(format!("job {job}"));
    }
    Ok(ids)
}

fn number_of(to: &Connection, id: i64) -> String {
    to.query_row("SELECT number FROM job WHERE id = ?1", [id], |r| r.get(0))
        .unwrap_or_else(|_| format!("of id {id}"))
}

fn decisions(
    from: &Connection,
    to: &Connection,
    jobs: &[i64],
    said: &mut Salvaged,
) -> Result<(), StoreError> {
    let job_of = |table: &str, id: i64| {
        let sql = format!("SELECT job_id FROM {table} WHERE rowid = ?1");
        let job: Option<i64> = from.query_row(&sql, [id], |r| r.get(0)).ok();
        job.map_or_else(
            || "an unknown job".to_owned(),
            |id| format!("job {}", number_of(to, id)),
        )
    };
    let mut lost = Vec::new();
    let acceptances = each(
        from,
        "acceptance",
        "job_id, content",
        |r| {
            let content = text(r, 1)?;
            serde_json::from_str::<Acceptance>(&content).ok()?;
            Some((r.get::<_, i64>(0).ok()?, content))
        },
        |id| lost.push(format!("an acceptance of {}", job_of("acceptance", id))),
    )?;
    for (_, (job, content)) in acceptances
        .into_iter()
        .filter(|(_, (j, _))| jobs.contains(j))
    {
        to.execute(
            "INSERT INTO acceptance (job_id, content) VALUES (?1, ?2)",
            params![job, content],
        )?;
    }
    let passed = each(
        from,
        "passed",
        "job_id, gate, stands, content",
        |r| {
            let (gate, content) = (text(r, 1)?, text(r, 3)?);
            Gate::from_word(&gate)?;
            job_from(&content).ok()?;
            Some((
                r.get::<_, i64>(0).ok()?,
                gate,
                r.get::<_, bool>(2).ok()?,
                content,
            ))
        },
        |id| lost.push(format!("{} as it passed a gate", job_of("passed", id))),
    )?;
    for (_, (job, gate, is_valid, content)) in passed {
        if jobs.contains(&job) {
            to.execute(
                "INSERT INTO passed (job_id, gate, stands, content) VALUES (?1, ?2, ?3, ?4)",
                params![job, gate, is_valid, content],
            )?;
        }
    }
    said.left_out.append(&mut lost);
    Ok(())
}

/// Writes history again by a new chain, and the numbers of erased jobs from it. Entries whose content was
/// erased are left out, and those of jobs that are not in the new book, except their erasure.
fn history(
    from: &Connection,
    to: &Connection,
    jobs: &[i64],
    said: &mut Salvaged,
) -> Result<(), StoreError> {
    let mut details = from.prepare("SELECT detail FROM history_detail WHERE id = ?1")?;
    let mut lost = 0;
    let entries = each(
        from,
        "history",
        "id, job_id, at, by, what",
        |r| {
            let at = text(r, 2)?;
            local_time(&at)?;
            let by: Option<String> = r.get(3).ok()?;
            let job: Option<i64> = r.get(1).ok()?;
            let detail = details.query_row([r.get::<_, i64>(0).ok()?], |d| d.get::<_, String>(0));
            let detail = match detail {
                Ok(detail) => Some(detail),
                Err(rusqlite::Error::QueryReturnedNoRows) => None,
                Err(_) => return None,
            };
            if let Some(detail) = &detail {
                serde_json::from_str::<Value>(detail).ok()?;
            }
            Some((job, at, by, text(r, 4)?, detail))
        },
        |_| lost += 1,
    )?;
    let mut erased: Vec<String> = Vec::new();
    for (_, (job, at, by, what, detail)) in &entries {
        let Some(detail) = detail else { continue };
        if what == ENTRIES_ERASED {
            // It names entries by the ids of the old chain, and those are left out.
            continue;
        }
        if what == ERASED
            && let Ok(detail) = serde_json::from_str::<Value>(detail)
            && let Some(number) = detail["number"].as_str()
        {
            erased.push(number.to_owned());
        }
        if job.is_none_or(|job| jobs.contains(&job)) || what == ERASED {
            let entry = HistoryEntry {
                job_id: *job,
                at,
                by: by.as_deref(),
                what,
                detail,
            };
            chain::append(to, &entry, Binds::Nothing)?;
        }
    }
    if !erased.is_empty() {
        let list = serde_json::to_string(&erased).map_err(|_| StoreError::Content("a setting"))?;
        to.execute(
            "INSERT INTO setting VALUES (?1, ?2)",
            [ERASED_NUMBERS, &list],
        )?;
    }
    if lost > 0 {
        said.left_out.push(format!("{lost} entries of history"));
    }
    Ok(())
}
