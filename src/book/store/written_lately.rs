//! Words and reasons of the newest jobs, to suggest again.

use chrono::NaiveDate;

use super::book::Store;
use super::error::StoreError;
use crate::judge::gate::Acceptance;

/// The newest jobs: laboratory, prescriber, coatings, maker and supplier of the frame, maker, product
/// and variant of the lenses as one JSON array.
pub(super) const WRITTEN: &str = "SELECT json_extract(content,
        '$.order.laboratory', '$.prescription.prescriber', '$.lenses.coatings',
        '$.frame.maker', '$.frame.supplier',
        '$.lenses.maker', '$.lenses.product', '$.lenses.variant')
     FROM job ORDER BY id DESC LIMIT ?1";

/// The newest acceptances, with the number of their job and whose it is.
pub(super) const ACCEPTED: &str =
    "SELECT j.number, j.wearer_key, j.born, a.content FROM acceptance a
     JOIN job j ON j.id = a.job_id ORDER BY a.id DESC LIMIT ?1";

/// What was written in a job and may come back in another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Written {
    /// Laboratory.
    pub laboratory: Option<String>,
    /// Prescriber.
    pub prescriber: Option<String>,
    /// Coatings.
    pub coatings: Option<Vec<String>>,
    /// Maker of the frame.
    pub frame_maker: Option<String>,
    /// Supplier of the frame.
    pub frame_supplier: Option<String>,
    /// Maker of the lenses.
    pub lens_maker: Option<String>,
    /// Product of the lenses.
    pub lens_product: Option<String>,
    /// Variant of the product.
    pub lens_variant: Option<String>,
}

/// A [`Written`] as the query gives it.
type Row = (
    Option<String>,
    Option<String>,
    Option<Vec<String>>,
    Option<String>,
    Option<String>,
    Option<String>,
    Option<String>,
    Option<String>,
);

impl From<Row> for Written {
    fn from(row: Row) -> Self {
        Self {
            laboratory: row.0,
            prescriber: row.1,
            coatings: row.2,
            frame_maker: row.3,
            frame_supplier: row.4,
            lens_maker: row.5,
            lens_product: row.6,
            lens_variant: row.7,
        }
    }
}

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
    /// Returns what was written in the newest jobs, the newest first.
    ///
    /// # Errors
    /// [`StoreError`] of the file.
    pub fn written_lately(&self, jobs: u32) -> Result<Vec<Written>, StoreError> {
        let mut statement = self.connection.prepare_cached(WRITTEN)?;
        let rows = statement.query_map([jobs], |r| r.get::<_, String>(0))?;
        rows.map(|row| {
            let row: Row = serde_json::from_str(&row?).map_err(|_| StoreError::Content("a job"))?;
            Ok(row.into())
        })
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
