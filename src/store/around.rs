//! What stands around a job: the people, the practice's choices, the same wearer's other jobs.
//!
//! Read through a plain connection or inside a write: a move must be judged by what holds at the
//! moment it is kept, not by what held a moment before.

use rusqlite::{Connection, OptionalExtension, params};
use serde::de::DeserializeOwned;

use super::error::StoreError;
use super::row::{job_from, wearer_key};
use crate::job::{Job, StaffMember, StaffRoll};
use crate::practice::Practice;

/// The same wearer's other jobs.
pub const OTHERS: &str = "SELECT content FROM job WHERE wearer_key = ?1 AND born IS ?2 AND id <> ?3 ORDER BY id DESC LIMIT ?4";

/// Returns the staff list.
pub fn staff(c: &Connection) -> Result<StaffRoll, StoreError> {
    let mut statement = c.prepare_cached("SELECT content FROM staff ORDER BY rowid")?;
    let texts = statement.query_map([], |r| r.get::<_, String>(0))?;
    let list: Result<Vec<StaffMember>, StoreError> = texts
        .map(|t| serde_json::from_str(&t?).map_err(|_| StoreError::Content("the staff list")))
        .collect();
    Ok(StaffRoll(list?))
}

/// Returns the practice's choices.
pub fn practice(c: &Connection) -> Result<Practice, StoreError> {
    setting(c, "practice").map(Option::unwrap_or_default)
}

pub fn setting<T: DeserializeOwned>(c: &Connection, name: &str) -> Result<Option<T>, StoreError> {
    let text: Option<String> = c
        .prepare_cached("SELECT content FROM setting WHERE name = ?1")?
        .query_row([name], |r| r.get(0))
        .optional()?;
    text.map(|t| serde_json::from_str(&t).map_err(|_| StoreError::Content("a setting")))
        .transpose()
}

/// Returns the same wearer's other jobs, newest first.
pub fn others(c: &Connection, id: i64, job: &Job, limit: i64) -> Result<Vec<Job>, StoreError> {
    let key = wearer_key(job.wearer.name.as_deref().unwrap_or(""));
    let mut statement = c.prepare_cached(OTHERS)?;
    let born = job.wearer.born.map(|b| b.to_string());
    let texts = statement.query_map(params![key, born, id, limit], |r| r.get::<_, String>(0))?;
    texts.map(|t| job_from(&t?)).collect()
}
