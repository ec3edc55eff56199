//! Whether a file's content is complete, by SQLite's own checks and by history.

use rusqlite::Connection;

use super::error::StoreError;
use super::made;
use super::recall;
use super::row::{job_from, search_entry};

/// Largest number of complaints that are read.
const MOST: usize = 20;

/// What SQLite says of a file.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Integrity {
    /// What is wrong with the file itself; no more than a few.
    pub faults: Vec<String>,
    /// Number of rows that refer to missing rows.
    pub orphans: usize,
    /// Whether the search index is not whole; it can be built again from the jobs.
    pub search_broken: bool,
}

impl Integrity {
    /// Whether everything but the search index is whole.
    pub fn is_whole(&self) -> bool {
        self.faults.is_empty() && self.orphans == 0
    }

    /// What is wrong, in a few words.
    pub fn words(&self) -> String {
        match (self.faults.first(), self.orphans) {
            (Some(first), _) => format!("{} faults, the first: {first}", self.faults.len()),
            (None, 0) => "nothing".to_owned(),
            (None, n) => format!("{n} rows point at rows that are not there"),
        }
    }
}

/// Asks SQLite whether the file is whole (`integrity_check`, `foreign_key_check`).
///
/// # Errors
/// [`StoreError`] when the file cannot be read at all.
pub(crate) fn integrity(c: &Connection) -> Result<Integrity, StoreError> {
    let mut found = Integrity::default();
    let mut statement = c.prepare(&format!("PRAGMA integrity_check({MOST})"))?;
    let said = statement
        .query_map([], |r| r.get::<_, String>(0))?
        .collect::<Result<Vec<_>, _>>()?;
    for line in said {
        // The table of the index by its name: SQLite 3.44 and later looks into it, too.
        if line.contains("FTS5 table") || line.contains("job_search") {
            found.search_broken = true;
        } else if line != "ok" {
            // SQLite's messages name pages, tables and rows, never their content.
            found.faults.push(line);
        }
    }
    let mut statement = c.prepare("PRAGMA foreign_key_check")?;
    let mut rows = statement.query([])?;
    while rows.next()?.is_some() {
        found.orphans += 1;
    }
    Ok(found)
}

/// Result of comparing the search index with the jobs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct SearchIndex {
    /// Whether the index is damaged.
    pub torn: bool,
    /// Jobs that are missing in it or differ from it.
    pub differing: usize,
    /// Entries without a job.
    pub surplus: usize,
}

impl SearchIndex {
    /// Whether the index is complete and equals the jobs.
    pub fn is_right(self) -> bool {
        !self.torn && self.differing == 0 && self.surplus == 0
    }
}

/// Compares the search index with the jobs, and with itself.
///
/// # Errors
/// [`StoreError`] of the file; a torn index is no error.
pub(crate) fn search_index(c: &Connection) -> Result<SearchIndex, StoreError> {
    let whole = c.execute_batch("INSERT INTO job_search (job_search) VALUES ('integrity-check')");
    let mut found = match whole.map_err(StoreError::from) {
        Err(e @ StoreError::Busy) => return Err(e),
        // The index is asked about itself by a write; of a protected file it is only compared.
        Ok(()) | Err(StoreError::Unwritable(_)) => SearchIndex::default(),
        Err(_) => SearchIndex {
            torn: true,
            ..SearchIndex::default()
        },
    };
    match compare(c, &mut found) {
        Ok(()) => {}
        Err(e @ StoreError::Busy) => return Err(e),
        Err(_) => found.torn = true,
    }
    Ok(found)
}

fn compare(c: &Connection, found: &mut SearchIndex) -> Result<(), StoreError> {
    let mut statement = c.prepare(
        "SELECT j.number, j.content, s.number, s.wearer, s.born, s.phone, s.frame, j.id
         FROM job j LEFT JOIN job_search s ON s.rowid = j.id",
    )?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let (number, content): (String, String) = (row.get(0)?, row.get(1)?);
        // An unreadable job is a separate finding.
        let Ok(job) = job_from(&content) else {
            continue;
        };
        let wanted = search_entry(&number, &job);
        let is_found_by_made = made::is_right(c, row.get(7)?, &job)?;
        let same = is_found_by_made && wanted.iter().zip(2..).all(|(wanted, column)| {
            matches!(row.get::<_, Option<String>>(column), Ok(Some(kept)) if kept == *wanted)
        });
        found.differing += usize::from(!same);
    }
    let surplus: i64 = c.query_row(
        "SELECT count(*) FROM job_search WHERE rowid NOT IN (SELECT id FROM job)",
        [],
        |r| r.get(0),
    )?;
    found.surplus = usize::try_from(surplus).unwrap_or(0);
    Ok(())
}

/// Rebuilds the search index, and who has what, from the jobs.
///
/// The table is created again from its own definition: a damaged one cannot be emptied.
///
/// # Errors
/// [`StoreError`] of the file.
pub(crate) fn rebuild_search(c: &Connection) -> Result<(), StoreError> {
    let made_by: String = c.query_row(
        "SELECT sql FROM sqlite_schema WHERE name = 'job_search'",
        [],
        |r| r.get(0),
    )?;
    c.execute_batch(&format!(
        "DROP TABLE job_search; {made_by};
         INSERT INTO job_search (job_search, rank) VALUES ('secure-delete', 1);"
    ))?;
    let mut statement = c.prepare("SELECT id, number, content FROM job")?;
    let mut rows = statement.query([])?;
    let mut insert = c.prepare(
        "INSERT INTO job_search (rowid, number, wearer, born, phone, frame) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
    )?;
    while let Some(row) = rows.next()? {
        let (id, number, content): (i64, String, String) = (row.get(0)?, row.get(1)?, row.get(2)?);
        if let Ok(job) = job_from(&content) {
            let [number, wearer, born, phone, frame] = search_entry(&number, &job);
            insert.execute((id, number, wearer, born, phone, frame))?;
        }
    }
    recall::fill(c)
}
