//! The jobs with a name that somebody else typed than its owner.

use super::book::Store;
use super::error::StoreError;
use super::row::job_from;
use crate::job::Job;

/// Those jobs, by their ids.
pub(super) const WITH_TYPED_NAMES: &str =
    "SELECT number, content FROM job WHERE instr(content, '\"typed_by\":') > 0 ORDER BY number";

impl Store {
    /// Returns the jobs in which a name waits for its owner, each with its number.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn with_typed_names(&self) -> Result<Vec<(String, Job)>, StoreError> {
        let mut statement = self.connection.prepare_cached(WITH_TYPED_NAMES)?;
        let rows = statement.query_map([], |r| Ok((r.get(0)?, r.get::<_, String>(1)?)))?;
        rows.map(|row| {
            let (number, content) = row?;
            Ok((number, job_from(&content)?))
        })
        .collect()
    }
}
