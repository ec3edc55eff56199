//! The staff list.

use super::error::{DeskError, ErrorKind};
use super::history::with_trial_day;
use super::open::Desk;
use super::session::{listed, may_add_staff};
use crate::book::store::NewEvent;
use crate::job::{StaffMember, StaffRoll};

impl Desk {
    /// Returns the staff list.
    pub fn staff(&self) -> Result<StaffRoll, DeskError> {
        Ok(self.store.staff()?)
    }

    /// Adds a person to the staff list.
    ///
    /// # Errors
    /// [`ErrorKind::Input`] for a name that is empty or taken, or a supervisor who is not listed.
    #[allow(
        clippy::needless_pass_by_value,
        reason = "the list takes the person over"
    )]
    pub fn add_staff(&mut self, member: StaffMember) -> Result<(), DeskError> {
        let (now, clock) = (self.clock.now(), self.clock);
        let write = self.store.write()?;
        let roll = write.staff()?;
        may_add_staff(self.session.as_deref(), &write, &roll)?;
        if member.name.trim().is_empty() || member.name.chars().any(char::is_control) {
            return Err(DeskError::new(ErrorKind::Input, "a person needs a name"));
        }
        if roll.find(&member.name).is_some() {
            return Err(DeskError::new(
                ErrorKind::Input,
                format!("{} is on the staff list already", member.name),
            ));
        }
        write.add_staff(&member)?;
        write.practice_event(NewEvent {
            at: now,
            by: self.session.as_deref(),
            what: "person added",
            detail: &with_trial_day(clock, serde_json::json!({"person": member})),
        })?;
        Ok(write.commit()?)
    }

    pub(super) fn person(&self, name: &str) -> Result<StaffMember, DeskError> {
        listed(&self.staff()?, name)
    }
}
