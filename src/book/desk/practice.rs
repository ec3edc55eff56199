//! The practice's standard, thresholds and printing.

use super::error::{DeskError, ErrorKind};
use super::history::with_trial_day;
use super::open::Desk;
use super::programs::Program;
use super::session::acting_registrant;
use crate::book::store::NewEvent;
use crate::practice::Practice;

impl Desk {
    /// Returns the practice's standard, thresholds and printing settings.
    pub fn practice(&self) -> Result<Practice, DeskError> {
        Ok(self.store.practice()?)
    }

    /// Stores all of the practice's settings; each job is judged again when it is next listed.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] unless a registered person does it: the standard and the thresholds
    /// decide which jobs may move.
    pub fn set_practice(&mut self, practice: &Practice, by: &str) -> Result<(), DeskError> {
        self.change_practice(by, &[], |_| Ok(practice.clone()))
    }

    /// Stores one of the practice's settings, by its key, and leaves the others as they are in the
    /// book, whatever another desk has made of them.
    ///
    /// # Errors
    /// [`ErrorKind::Input`] for a value that the setting does not take; [`ErrorKind::Refused`] unless
    /// a registered person does it.
    pub fn set_in_practice(&mut self, key: &str, value: &str, by: &str) -> Result<(), DeskError> {
        self.change_practice(by, &[key], |before| {
            let mut practice = before.clone();
            practice
                .set(key, value)
                .map_err(|why| DeskError::new(ErrorKind::Input, why))?;
            Ok(practice)
        })
    }

    fn change_practice(
        &mut self,
        by: &str,
        keys: &[&str],
        changed: impl FnOnce(&Practice) -> Result<Practice, DeskError>,
    ) -> Result<(), DeskError> {
        let (now, clock) = (self.clock.now(), self.clock);
        let write = self.store.write()?;
        let before = write.practice()?;
        let practice = changed(&before)?;
        let person = acting_registrant(
            self.session.as_deref(),
            &write,
            by,
            "set the practice's standard and thresholds",
        )?;
        write.set_practice(&practice)?;
        let set: Vec<Program> = Program::ALL
            .into_iter()
            .filter(|program| keys.contains(&program.key()))
            .collect();
        if !set.is_empty() {
            // What is agreed to here is agreed to for this book.
            write.book_id()?;
        }
        write.practice_event(NewEvent {
            at: now,
            by: Some(&person.name),
            what: "practice set",
            detail: &with_trial_day(clock, serde_json::json!({"from": before, "to": practice})),
        })?;
        write.commit()?;
        for program in set {
            self.agree_to_program(program)?;
        }
        Ok(())
    }
}
