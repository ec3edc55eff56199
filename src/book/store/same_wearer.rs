//! The other jobs of a wearer, found by name and date of birth.

use rusqlite::{Connection, params};

use super::error::StoreError;
use super::row::{job_from, wearer_key};
use crate::job::Job;

/// The same wearer's other jobs.
pub(crate) const OTHERS: &str = "SELECT content FROM job WHERE wearer_key = ?1 AND born IS ?2 AND id <> ?3 ORDER BY id DESC LIMIT ?4";

/// Returns the same wearer's other jobs, newest first.
pub(crate) fn others(
    c: &Connection,
    id: i64,
    job: &Job,
    limit: i64,
) -> Result<Vec<Job>, StoreError> {
    let key = wearer_key(job.wearer.name.as_deref().unwrap_or(""));
    let mut statement = c.prepare_cached(OTHERS)?;
    let born = job.wearer.born.map(|b| b.to_string());
    let texts = statement.query_map(params![key, born, id, limit], |r| r.get::<_, String>(0))?;
    texts.map(|t| job_from(&t?)).collect()
}
