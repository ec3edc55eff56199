//! The staff list.

use super::error::{DeskError, ErrorKind};
use super::history::with_trial_day;
use super::open::Desk;
use super::session::{add_number, listed, may_add_staff};
use crate::book::store::NewEvent;
use crate::job::{NumberRule, Role, StaffMember, StaffRoll};

/// What became of the staff list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Added {
    /// Somebody new is on it.
    Person,
    /// Somebody who was on it without a registration number has one.
    Number,
}

/// Returns a text without outer blanks; `None` for a blank one.
fn trimmed(text: Option<String>) -> Option<String> {
    text.map(|t| t.trim().to_owned()).filter(|t| !t.is_empty())
}

impl Desk {
    /// Returns the staff list.
    pub fn staff(&self) -> Result<StaffRoll, DeskError> {
        Ok(self.store.staff()?)
    }

    /// Returns one sentence for each person of the list whose role is a registered one and whose
    /// registration number is missing, where the practice asks for it: they count as not registered.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn without_number(&self) -> Result<Vec<String>, DeskError> {
        let rule = self.practice()?.registration;
        let roll = self.staff()?;
        let lacking = roll.0.iter().filter(|m| m.lacks_number(rule));
        Ok(lacking
            .map(|m| {
                format!(
                    "{} has no registration number and counts as not registered: {}",
                    m.name,
                    add_number(m)
                )
            })
            .collect())
    }

    /// Adds a person to the staff list, or the registration number of one who is on it without.
    ///
    /// # Errors
    /// [`ErrorKind::Input`] for a name that is empty or taken, a missing registration number, or a
    /// trainee whose supervisor is not registered; nothing is added.
    pub fn add_staff(&mut self, member: StaffMember) -> Result<Added, DeskError> {
        let (now, clock) = (self.clock.now(), self.clock);
        let write = self.store.write()?;
        let roll = write.staff()?;
        may_add_staff(self.session.as_deref(), &write, &roll)?;
        let mut member = StaffMember {
            registration: trimmed(member.registration),
            supervisor: trimmed(member.supervisor),
            ..member
        };
        if member.name.trim().is_empty() || member.name.chars().any(char::is_control) {
            return Err(DeskError::new(ErrorKind::Input, "a person needs a name"));
        }
        let mut added = Added::Person;
        if let Some(known) = roll.find(&member.name) {
            let is_number = known.lacks_number(NumberRule::Required)
                && known.role == member.role
                && member.registration.is_some();
            if !is_number {
                return Err(DeskError::new(
                    ErrorKind::Input,
                    format!("{} is on the staff list already", known.name),
                ));
            }
            added = Added::Number;
            member = StaffMember {
                registration: member.registration,
                ..known.clone()
            };
        }
        may_be_listed(&member, &roll, write.practice()?.registration)?;
        write.add_staff(&member)?;
        write.practice_event(NewEvent {
            at: now,
            by: self.session.as_deref(),
            what: match added {
                Added::Person => "person added",
                Added::Number => "registration number added",
            },
            detail: &with_trial_day(clock, serde_json::json!({"person": member})),
        })?;
        write.commit()?;
        Ok(added)
    }

    pub(super) fn person(&self, name: &str) -> Result<StaffMember, DeskError> {
        listed(&self.staff()?, name)
    }
}

/// Refuses a registered role without its number, and a trainee without a registered supervisor.
///
/// While nobody registered is on the list yet, a supervisor may be named who is added later: the
/// order in which a list is begun does not matter, and the trainee is not supervised until then.
fn may_be_listed(
    member: &StaffMember,
    roll: &StaffRoll,
    rule: NumberRule,
) -> Result<(), DeskError> {
    let refused =
        |message: String, hint: &str| Err(DeskError::new(ErrorKind::Input, message).hint(hint));
    if member.lacks_number(rule) {
        return refused(
            format!(
                "{} has no registration number: {} is registered under one",
                member.name,
                match member.role {
                    Role::Optometrist => "an optometrist",
                    _ => "a dispensing optician",
                }
            ),
            "give it with --registration NUMBER",
        );
    }
    if member.role != Role::Trainee {
        return Ok(());
    }
    let hint =
        "a trainee works under a registered dispensing optician or optometrist of the staff list";
    let Some(supervisor) = &member.supervisor else {
        return refused(format!("{} has no supervisor", member.name), hint);
    };
    let begun = roll.0.iter().any(|m| m.is_registrant(rule));
    let may = match roll.find(supervisor) {
        Some(listed) => listed.is_registrant(rule),
        None => !begun,
    };
    if may {
        return Ok(());
    }
    refused(
        format!(
            "{supervisor}, who is to supervise {}, is not registered",
            member.name
        ),
        hint,
    )
}
