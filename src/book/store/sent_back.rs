//! The pairs that were sent back lately, from the history.

use chrono::NaiveDate;
use serde_json::Value;

use super::book::Store;
use super::error::StoreError;
use super::times::local_time;

/// A pair that was sent back: the day, the laboratory the job names, what history says of it.
pub(crate) type SentBackRow = (NaiveDate, String, Value);

impl Store {
    /// Returns the pairs sent back since a day, the latest first, at most `limit`.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn sent_back_since(
        &self,
        since: NaiveDate,
        limit: usize,
    ) -> Result<Vec<SentBackRow>, StoreError> {
        // The index holds only these events, by time: a book of any size reads just the last ones.
        let mut statement = self.connection.prepare_cached(
            "SELECT h.at, j.content ->> '$.order.laboratory', d.detail
             FROM history h INDEXED BY history_sent_back
             JOIN job j ON j.id = h.job_id
             JOIN history_detail d ON d.id = h.id
             WHERE h.what = 'sent back' AND h.at >= ?1 ORDER BY h.at DESC LIMIT ?2",
        )?;
        let limit = i64::try_from(limit).unwrap_or(i64::MAX);
        let rows = statement.query_map((since.to_string(), limit), |r| {
            Ok((
                r.get::<_, String>(0)?,
                r.get::<_, Option<String>>(1)?,
                r.get::<_, String>(2)?,
            ))
        })?;
        let mut out = Vec::new();
        for row in rows {
            let (at, laboratory, detail) = row?;
            let at = local_time(&at).ok_or(StoreError::Content("a time"))?;
            let detail =
                serde_json::from_str(&detail).map_err(|_| StoreError::Content("an event"))?;
            if let Some(laboratory) = laboratory {
                out.push((at.date(), laboratory, detail));
            }
        }
        Ok(out)
    }
}
