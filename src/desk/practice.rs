//! The practice's standard, thresholds and printing.

use super::error::DeskError;
use super::history::with_trial_day;
use super::open::Desk;
use super::session::{acting, registered};
use crate::practice::Practice;
use crate::store::NewEvent;

impl Desk {
    /// Returns the practice's standard, thresholds and printing settings.
    pub fn practice(&self) -> Result<Practice, DeskError> {
        Ok(self.store.practice()?)
    }

    /// Stores the practice's settings; each job is judged again when it is next listed.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] unless a registered person does it: the standard and the thresholds
    /// decide which jobs may move.
    pub fn set_practice(&mut self, practice: &Practice, by: &str) -> Result<(), DeskError> {
        let (now, clock) = (self.clock.now(), self.clock);
        let write = self.store.write()?;
        let person = registered(
            acting(self.session.as_deref(), &write, by)?,
            "set the practice's standard and thresholds",
        )?;
        let before = write.practice()?;
        write.set_practice(practice)?;
        write.practice_event(NewEvent {
            at: now,
            by: Some(&person.name),
            what: "practice set",
            detail: &with_trial_day(clock, serde_json::json!({"from": before, "to": practice})),
        })?;
        Ok(write.commit()?)
    }
}
