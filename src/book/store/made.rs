//! What the frame and lenses of each job are found by in a recall: maker, product and lot.

use rusqlite::{Connection, params};

use super::error::StoreError;
use crate::job::Job;
use crate::trade::eye::Eye;

/// A frame or lens as it is compared: what it is, maker, product with its variant, lot.
type Entry = (&'static str, [String; 3]);

/// The form of a name in which it is compared: small letters, one space between words.
pub(super) fn key(texts: &[&Option<String>]) -> String {
    let words: Vec<&str> = texts
        .iter()
        .filter_map(|text| text.as_deref())
        .flat_map(str::split_whitespace)
        .collect();
    words.join(" ").to_lowercase()
}

/// What a job's frame and lenses are found by, in the order of the table's key; nothing of which
/// nothing is recorded.
fn entries(job: &Job) -> Vec<Entry> {
    let (frame, lenses) = (&job.frame, &job.lenses);
    let lens = |what, eye| {
        let maker = key(&[&lenses.maker]);
        let product = key(&[&lenses.product, &lenses.variant]);
        (what, [maker, product, key(&[&job.readings.eye(eye).lot])])
    };
    let mut all = vec![
        (
            "frame",
            [
                key(&[&frame.maker]),
                key(&[&frame.name]),
                key(&[&frame.lot]),
            ],
        ),
        lens("left lens", Eye::Left),
        lens("right lens", Eye::Right),
    ];
    all.retain(|(_, texts)| texts.iter().any(|t| !t.is_empty()));
    all
}

/// What is kept of a job.
pub(super) const OF_A_JOB: &str =
    "SELECT what, maker, product, lot FROM made WHERE job_id = ?1 ORDER BY what";

fn is_kept(c: &Connection, id: i64, wanted: &[Entry]) -> rusqlite::Result<bool> {
    let mut statement = c.prepare_cached(OF_A_JOB)?;
    let mut rows = statement.query([id])?;
    let mut open = wanted.iter();
    while let Some(row) = rows.next()? {
        let Some((what, texts)) = open.next() else {
            return Ok(false);
        };
        let wanted = std::iter::once(*what).chain(texts.iter().map(String::as_str));
        for (at, text) in wanted.enumerate() {
            if row.get_ref(at)?.as_str_or_null()? != Some(text) {
                return Ok(false);
            }
        }
    }
    Ok(open.next().is_none())
}

/// Whether what is kept of a job is what it records.
pub(super) fn is_right(c: &Connection, id: i64, job: &Job) -> Result<bool, StoreError> {
    Ok(is_kept(c, id, &entries(job))?)
}

/// Keeps what a job's frame and lenses are found by; writes only where it changes.
pub(super) fn write(c: &Connection, id: i64, job: &Job) -> Result<(), StoreError> {
    let wanted = entries(job);
    if is_kept(c, id, &wanted)? {
        return Ok(());
    }
    erase(c, id)?;
    insert(c, id, &wanted)
}

/// As [`write`], for a job of which nothing is kept.
pub(super) fn add(c: &Connection, id: i64, job: &Job) -> Result<(), StoreError> {
    insert(c, id, &entries(job))
}

fn insert(c: &Connection, id: i64, entries: &[Entry]) -> Result<(), StoreError> {
    let mut statement = c.prepare_cached(
        "INSERT INTO made (job_id, what, maker, product, lot) VALUES (?1, ?2, ?3, ?4, ?5)",
    )?;
    for (what, [maker, product, lot]) in entries {
        statement.execute(params![id, what, maker, product, lot])?;
    }
    Ok(())
}

/// Removes what is kept of a job.
pub(super) fn erase(c: &Connection, id: i64) -> Result<(), StoreError> {
    c.prepare_cached("DELETE FROM made WHERE job_id = ?1")?
        .execute([id])?;
    Ok(())
}
