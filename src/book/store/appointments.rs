//! Appointments of jobs, read from columns of their rows; no data of a wearer are read.

use chrono::{NaiveDate, NaiveDateTime};

use super::book::Store;
use super::error::StoreError;
use super::times::local_time;
use crate::job::{Moment, Stage};

/// An appointment as the rows hold it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AppointmentRow {
    /// Number of the job.
    pub number: String,
    /// Stage of the job.
    pub stage: Stage,
    /// Revision of the job.
    pub revision: i64,
    /// The appointment.
    pub collection_at: Moment,
    /// When the job was last changed.
    pub changed_at: Option<NaiveDateTime>,
}

/// The open jobs, by the index of the worklist, and the cancelled ones.
const SQL: &str = "
    SELECT number, stage, revision, collection_at,
           (SELECT h.at FROM history h WHERE h.job_id = j.id ORDER BY h.id DESC LIMIT 1)
    FROM job j WHERE j.id IN (
        SELECT id FROM job WHERE past = 0 AND stage IN ('measured', 'ordered', 'verified')
            AND collection_at >= ?1 AND collection_at < ?2
        UNION ALL
        SELECT id FROM job WHERE past = 0 AND stage = 'cancelled'
            AND collection_at >= ?1 AND collection_at < ?2)
    ORDER BY collection_at, id";

impl Store {
    /// Returns the appointments of open and of cancelled jobs from one day on, up to another, which
    /// is not included; by time.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn appointments(
        &self,
        from: NaiveDate,
        until: NaiveDate,
    ) -> Result<Vec<AppointmentRow>, StoreError> {
        let mut statement = self.connection.prepare_cached(SQL)?;
        let rows = statement.query_map([from.to_string(), until.to_string()], |r| {
            Ok((
                r.get::<_, String>(0)?,
                r.get::<_, String>(1)?,
                r.get::<_, i64>(2)?,
                r.get::<_, String>(3)?,
                r.get::<_, Option<String>>(4)?,
            ))
        })?;
        rows.map(|row| {
            let (number, stage, revision, at, changed) = row?;
            Ok(AppointmentRow {
                number,
                stage: Stage::from_word(&stage).ok_or(StoreError::Content("a stage"))?,
                revision,
                collection_at: Moment::parse(&at).ok_or(StoreError::Content("an appointment"))?,
                changed_at: changed.as_deref().and_then(local_time),
            })
        })
        .collect()
    }
}
