//! Reading every row of every table as the program would: a file may be whole by its own structure and
//! still hold what nobody can read.

use rusqlite::{Connection, Row};
use serde::de::DeserializeOwned;

use super::error::StoreError;
use super::holding_checks::Held;
use super::row::{LINE, job_from, line, questions_from};
use super::times::local_time;
use crate::job::{Gate, StaffMember};
use crate::judge::gate::Acceptance;
use crate::practice::Practice;

/// A row that cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unreadable {
    /// Number of its job, or its id where the number cannot be read; `None` for a row of the practice.
    pub job: Option<String>,
    /// What it holds.
    pub what: &'static str,
}

impl std::fmt::Display for Unreadable {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match &self.job {
            Some(job) => write!(f, "job {job} ({})", self.what),
            None => f.write_str(self.what),
        }
    }
}

/// Whether a row is read as the program would.
type Reads = fn(&Row<'_>) -> Option<()>;

fn json<T: DeserializeOwned>(row: &Row<'_>, column: usize) -> Option<()> {
    serde_json::from_str::<T>(&row.get::<_, String>(column).ok()?)
        .ok()
        .map(drop)
}

fn is_text(row: &Row<'_>, column: usize) -> Option<()> {
    row.get::<_, Option<String>>(column).ok().map(drop)
}

fn is_day(text: Option<String>) -> Option<()> {
    text.is_none_or(|t| t.parse::<chrono::NaiveDate>().is_ok())
        .then_some(())
}

fn reads_job(row: &Row<'_>) -> Option<()> {
    job_from(&row.get::<_, String>(1).ok()?).ok()?;
    let questions: Option<String> = row.get(2).ok()?;
    questions
        .is_none_or(|q| questions_from(&q).is_ok())
        .then_some(())?;
    // What a list reads: the columns of a line follow.
    let held: String = row.get(3).ok()?;
    let ids: Vec<String> = serde_json::from_str(&held).ok()?;
    (Held::kept(&held) == ids.into_iter().collect::<Held>()).then_some(())?;
    is_day(row.get(4).ok()?)
}

/// The tables with what each row is and how it is read; the first column is the id of the job, or null.
const TABLES: [(&str, &str, Reads); 10] = [
    (
        "the job",
        "SELECT id, content, question, held, held_on FROM job",
        reads_job,
    ),
    (
        "an acceptance",
        "SELECT job_id, content FROM acceptance",
        |r| json::<Acceptance>(r, 1),
    ),
    (
        "the pair as it passed a gate",
        "SELECT job_id, gate, stands, content FROM passed",
        |r| {
            Gate::from_word(&r.get::<_, String>(1).ok()?)?;
            r.get::<_, bool>(2).ok()?;
            job_from(&r.get::<_, String>(3).ok()?).ok().map(drop)
        },
    ),
    (
        "an entry of history",
        "SELECT h.job_id, h.at, h.by, h.what, d.detail, d.salt FROM history h LEFT JOIN history_detail d ON d.id = h.id",
        |r| {
            local_time(&r.get::<_, String>(1).ok()?)?;
            is_text(r, 2)?;
            r.get::<_, String>(3).ok()?;
            r.get::<_, Option<Vec<u8>>>(5).ok()?;
            let detail: Option<String> = r.get(4).ok()?;
            detail
                .is_none_or(|d| serde_json::from_str::<serde_json::Value>(&d).is_ok())
                .then_some(())
        },
    ),
    (
        "an unfinished text",
        "SELECT job_id, field, text FROM draft",
        |r| {
            r.get::<_, String>(1)
                .and(r.get::<_, String>(2))
                .ok()
                .map(drop)
        },
    ),
    (
        "what it is found by in a recall",
        "SELECT job_id, what, maker, product, lot FROM made",
        |r| (1..5).all(|n| r.get::<_, String>(n).is_ok()).then_some(()),
    ),
    (
        "the staff list",
        "SELECT NULL, name, content FROM staff",
        |r| {
            is_text(r, 1)?;
            json::<StaffMember>(r, 2)
        },
    ),
    (
        "a setting",
        "SELECT NULL, name, content FROM setting",
        |r| match r.get::<_, String>(1).ok()?.as_str() {
            "practice" => json::<Practice>(r, 2),
            _ => json::<serde_json::Value>(r, 2),
        },
    ),
    (
        "a PIN or passphrase",
        "SELECT NULL, name, secret, failures, failed_since_s, waits_until_s, failed_day, failed_on_day FROM credential",
        |r| {
            (r.get::<_, String>(1).is_ok()
                && r.get::<_, String>(2).is_ok()
                && r.get::<_, u32>(3).is_ok())
            .then_some(())?;
            (4..8)
                .all(|n| r.get::<_, Option<i64>>(n).is_ok())
                .then_some(())
        },
    ),
    (
        "the record of an earlier version",
        "SELECT job_id, state FROM job_as_found",
        |r| r.get::<_, Vec<u8>>(1).ok().map(drop),
    ),
];

/// Returns the rows that cannot be read, each job and what once.
///
/// # Errors
/// [`StoreError`] of the file.
pub(crate) fn unreadable(c: &Connection) -> Result<Vec<Unreadable>, StoreError> {
    let mut found: Vec<Unreadable> = Vec::new();
    let mut note = |job: Option<i64>, what: &'static str| {
        let number = |id: i64| {
            let number: rusqlite::Result<String> =
                c.query_row("SELECT number FROM job WHERE id = ?1", [id], |r| r.get(0));
            number.unwrap_or_else(|_| format!("of id {id}"))
        };
        let one = Unreadable {
            job: job.map(number),
            what,
        };
        if !found.contains(&one) {
            found.push(one);
        }
    };
    for (what, sql, reads) in TABLES {
        let mut statement = c.prepare(sql)?;
        let mut rows = statement.query([])?;
        while let Some(row) = rows.next()? {
            if reads(row).is_none() {
                note(row.get(0).unwrap_or_default(), what);
            }
        }
    }
    // The line of each job as lists read it.
    let mut statement = c.prepare(&format!("SELECT {LINE}, id FROM job"))?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        if line(row).is_err() {
            note(row.get(super::row::LINE_COLUMNS).ok(), "the job");
        }
    }
    Ok(found)
}
