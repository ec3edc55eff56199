//! Who has a frame or lens of a maker, a product or a lot.

use rusqlite::{Connection, params};

use super::error::StoreError;
use super::row::{LINE, LineRow, job_from, line, wearer_key};
use crate::job::Job;
use crate::trade::eye::Eye;

/// What is looked for in a recall; what is `None` may be anything.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Made {
    /// The maker of the frame or lens, or the first words of its name.
    pub maker: Option<String>,
    /// The product, or the first words of its name; of a frame its model.
    pub product: Option<String>,
    /// The lot, whole.
    pub lot: Option<String>,
}

impl Made {
    /// Whether nothing is looked for.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// A frame or lens as it is compared: what it is, maker, product with its variant, lot.
type Entry = (&'static str, [String; 3]);

/// The form of a name in which it is compared.
fn key(words: &[&Option<String>]) -> String {
    let words: Vec<&str> = words.iter().filter_map(|w| w.as_deref()).collect();
    wearer_key(&words.join(" "))
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
    let mut left = wanted.iter();
    while let Some(row) = rows.next()? {
        let Some((what, texts)) = left.next() else {
            return Ok(false);
        };
        let wanted = std::iter::once(*what).chain(texts.iter().map(String::as_str));
        for (at, text) in wanted.enumerate() {
            if row.get_ref(at)?.as_str_or_null()? != Some(text) {
                return Ok(false);
            }
        }
    }
    Ok(left.next().is_none())
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

/// Fills the table from the jobs; one that cannot be read is left out, as from the search index.
pub(super) fn fill(c: &Connection) -> Result<(), StoreError> {
    c.execute("DELETE FROM made", [])?;
    let mut statement = c.prepare("SELECT id, content FROM job")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        if let Ok(job) = job_from(&row.get::<_, String>(1)?) {
            add(c, row.get(0)?, &job)?;
        }
    }
    Ok(())
}

/// Returns the jobs, whatever became of them, whose frame or one of whose lenses is what is looked
/// for, newest first; none where nothing is looked for.
pub(super) fn find(c: &Connection, made: &Made) -> Result<Vec<LineRow>, StoreError> {
    let keys = [&made.maker, &made.product, &made.lot].map(|text| key(&[text]));
    let asked: Vec<(Asked, &str)> = [Asked::Maker, Asked::Product, Asked::Lot]
        .into_iter()
        .zip(keys.iter().map(String::as_str))
        .filter(|(_, key)| !key.is_empty())
        .collect();
    if asked.is_empty() {
        return Ok(Vec::new());
    }
    let columns: Vec<Asked> = asked.iter().map(|(column, _)| *column).collect();
    let mut statement = c.prepare_cached(&having(&columns))?;
    let keys = rusqlite::params_from_iter(asked.iter().map(|(_, key)| *key));
    let rows = statement.query_map(keys, line)?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// What a frame or lens is looked for by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Asked {
    /// Its maker.
    Maker,
    /// Its product.
    Product,
    /// Its lot.
    Lot,
}

/// The query of the jobs by what is asked for, one parameter each. A name that goes on after what is
/// asked for has a space there, the one letter before an exclamation mark.
pub(super) fn having(asked: &[Asked]) -> String {
    let condition = |(at, column): (usize, &Asked)| {
        let n = at + 1;
        match column {
            Asked::Maker => format!("maker <> '' AND maker >= ?{n} AND maker < ?{n} || '!'"),
            Asked::Product => {
                format!("product <> '' AND product >= ?{n} AND product < ?{n} || '!'")
            }
            Asked::Lot => format!("lot <> '' AND lot = ?{n}"),
        }
    };
    let conditions: Vec<String> = asked.iter().enumerate().map(condition).collect();
    format!(
        "SELECT {LINE} FROM job WHERE id IN (SELECT job_id FROM made WHERE {}) ORDER BY id DESC",
        conditions.join(" AND ")
    )
}
