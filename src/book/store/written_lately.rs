//! Words and reasons of the newest jobs, to suggest again.

use chrono::NaiveDate;

use super::book::Store;
use super::error::StoreError;
use crate::judge::gate::Acceptance;

/// The newest jobs: laboratory, prescriber and coatings as one JSON array.
pub(super) const WRITTEN: &str = "SELECT json_extract(content,
        '$.order.laboratory', '$.prescription.prescriber', '$.lenses.coatings')
     FROM job ORDER BY id DESC LIMIT ?1";

/// The newest acceptances, with the number of their job and whose it is.
pub(super) const ACCEPTED: &str =
    "SELECT j.number, j.wearer_key, j.born, a.content FROM acceptance a
     JOIN job j ON j.id = a.job_id ORDER BY a.id DESC LIMIT ?1";

/// Laboratory, prescriber and coatings of a job.
pub(crate) type Written = (Option<String>, Option<String>, Option<Vec<String>>);

/// An acceptance with the job it was given for.
#[derive(Debug, Clone)]
pub struct Accepted {
    /// Number of the job.
    pub number: String,
    /// The form of the wearer's name under which they are found again.
    pub wearer_key: String,
    /// The wearer's date of birth.
    pub born: Option<NaiveDate>,
    /// What was accepted and why.
    pub acceptance: Acceptance,
}

impl Store {
    /// Returns laboratory, prescriber and coatings of the newest jobs, the newest first.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn written_lately(&self, jobs: u32) -> Result<Vec<Written>, StoreError> {
        let mut statement = self.connection.prepare_cached(WRITTEN)?;
        let rows = statement.query_map([jobs], |r| r.get::<_, String>(0))?;
        rows.map(|row| serde_json::from_str(&row?).map_err(|_| StoreError::Content("a job")))
            .collect()
    }

    /// Returns the newest acceptances with number and wearer of their job, the newest first.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn accepted_lately(&self, count: u32) -> Result<Vec<Accepted>, StoreError> {
        let mut statement = self.connection.prepare_cached(ACCEPTED)?;
        let rows = statement.query_map([count], |r| {
            Ok((
                r.get::<_, String>(0)?,
                r.get::<_, String>(1)?,
                r.get::<_, Option<String>>(2)?,
                r.get::<_, String>(3)?,
            ))
        })?;
        rows.map(|row| {
            let (number, wearer_key, born, content) = row?;
            let acceptance =
                serde_json::from_str(&content).map_err(|_| StoreError::Content("an acceptance"))?;
            Ok(Accepted {
                number,
                wearer_key,
                born: born.and_then(|day| day.parse().ok()),
                acceptance,
            })
        })
        .collect()
    }
}
