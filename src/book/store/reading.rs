//! Who looked at what, where people sign in. Kept apart from history and for a set time.

use rusqlite::params;

use super::book::{Store, Write};
use super::error::StoreError;

/// One look: when (seconds since 1970, UTC), who, at what, and the job where it was one.
pub(crate) type ReadRow = (i64, String, String, Option<String>);

/// The looks at a job, and at all jobs at once.
pub(super) const READS_OF: &str =
    "SELECT at_s, by, what, number FROM reads WHERE number = ?1 OR number IS NULL ORDER BY id";
/// The looks that are kept no longer.
const PAST: &str = "DELETE FROM reads WHERE at_s < ?1";

impl Write<'_> {
    /// Keeps that somebody looked at jobs, or at all of them where no number is given, and removes what is
    /// older than `keep_from_s`.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn note_reads(
        &self,
        (at_s, keep_from_s): (i64, i64),
        by: &str,
        what: &str,
        numbers: &[&str],
    ) -> Result<(), StoreError> {
        let mut statement = self
            .transaction
            .prepare_cached("INSERT INTO reads (at_s, by, what, number) VALUES (?1, ?2, ?3, ?4)")?;
        if numbers.is_empty() {
            statement.execute(params![at_s, by, what, None::<&str>])?;
        }
        for number in numbers {
            statement.execute(params![at_s, by, what, number])?;
        }
        self.transaction
            .prepare_cached(PAST)?
            .execute([keep_from_s])?;
        Ok(())
    }
}

impl Store {
    /// Returns the looks at a job, and at all jobs at once, oldest first.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn reads_of(&self, number: &str) -> Result<Vec<ReadRow>, StoreError> {
        let mut statement = self.connection.prepare_cached(READS_OF)?;
        let rows = statement.query_map([number], |r| {
            Ok((r.get(0)?, r.get(1)?, r.get(2)?, r.get(3)?))
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }
}
