//! The appointments of the book as a calendar.

use chrono::{Days, NaiveDate};

use super::error::DeskError;
use super::open::Desk;
use crate::book::clock::utc_of;
use crate::exchange::calendar::{Appointment, uid};
use crate::job::Stage;

impl Desk {
    /// Returns the appointments of open and cancelled jobs from a day on, for a number of days.
    ///
    /// A book without an id is given one: the ids of the calendar's events are made from it.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn appointments(
        &mut self,
        from: NaiveDate,
        days: u32,
        minutes: u32,
    ) -> Result<Vec<Appointment>, DeskError> {
        let book = self.book_id()?;
        let until = from
            .checked_add_days(Days::new(days.into()))
            .unwrap_or(NaiveDate::MAX);
        let rows = self.store.appointments(from, until)?;
        Ok(rows
            .into_iter()
            .map(|row| Appointment {
                uid: uid(&book, &row.number),
                starts_at: utc_of(row.collection_at.0),
                minutes,
                changed_at: utc_of(row.changed_at.unwrap_or(row.collection_at.0)),
                sequence: u32::try_from(row.revision).unwrap_or(0),
                cancelled: row.stage == Stage::Cancelled,
                number: row.number,
            })
            .collect())
    }

    fn book_id(&mut self) -> Result<String, DeskError> {
        if let Some(id) = self.store.known_book_id()? {
            return Ok(id);
        }
        let write = self.store.write()?;
        let id = write.book_id()?;
        write.commit()?;
        Ok(id)
    }
}
