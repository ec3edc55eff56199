//! Migration of the events of books older than the chain of history.

use rusqlite::Connection;

use super::chain::{self, HistoryEntry};
use super::error::StoreError;
use super::standing::Binds;

/// Adds the events of an older book to the chain, in their order.
///
/// Only the newest event of each job is bound to the present job: its earlier states are known
/// from the events' contents only.
///
/// # Errors
/// [`StoreError`] of the file.
pub(super) fn bind_earlier_events(c: &Connection) -> Result<(), StoreError> {
    {
        let mut statement = c.prepare(
            "SELECT e.job_id, e.at, e.by, e.what, e.detail,
                    CASE WHEN e.id = (SELECT max(id) FROM event WHERE job_id = e.job_id) THEN j.id END
             FROM event e JOIN job j ON j.id = e.job_id ORDER BY e.id",
        )?;
        let mut rows = statement.query([])?;
        while let Some(row) = rows.next()? {
            let (at, what, detail): (String, String, String) =
                (row.get(1)?, row.get(3)?, row.get(4)?);
            let by: Option<String> = row.get(2)?;
            let entry = HistoryEntry {
                job_id: row.get(0)?,
                at: &at,
                by: by.as_deref(),
                what: &what,
                detail: &detail,
            };
            let newest: Option<i64> = row.get(5)?;
            chain::append(c, &entry, newest.map_or(Binds::Nothing, Binds::Job))?;
        }
    }
    c.execute_batch(
        "DROP TRIGGER event_is_history_update; DROP TRIGGER event_is_history_delete; DROP TABLE event;",
    )?;
    Ok(())
}
