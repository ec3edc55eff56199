//! Signing in: the person who acts is the one signed in, where the practice requires it.
//!
//! Every write asks [`acting`] inside its transaction, so that no screen and no command is trusted
//! with it. While signing in is off, a name is enough, as on paper; the screen says so.

use serde::{Deserialize, Serialize};
use serde_json::json;

use super::attempts::{self, Refused};
use super::error::{DeskError, ErrorKind};
use super::history::with_trial_day;
use super::open::Desk;
use super::secret;
use crate::book::store::{Attempts, NewEvent, Write};
use crate::job::{NumberRule, StaffMember, StaffRoll};

/// Name of the setting in the book.
const SECURITY: &str = "security";
/// Longest time before an idle screen is locked, minutes.
pub(crate) const LONGEST_IDLE_MINUTES: u16 = 240;

/// The practice's settings of signing in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Security {
    /// Whether each person signs in with a PIN or passphrase.
    pub sign_in: bool,
    /// Minutes without a key after which the screen is locked; 0 never.
    pub idle_minutes: u16,
}

impl Default for Security {
    fn default() -> Self {
        Self {
            sign_in: false,
            idle_minutes: 5,
        }
    }
}

/// A change of the settings of signing in; `None` keeps the present value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct SecurityChange {
    /// Whether each person signs in.
    pub sign_in: Option<bool>,
    /// Minutes without a key after which the screen is locked.
    pub idle_minutes: Option<u16>,
}

impl SecurityChange {
    /// Whether it could weaken the protection: then the PIN is asked for once more.
    pub(crate) const fn may_weaken(self) -> bool {
        matches!(self.sign_in, Some(false)) || self.idle_minutes.is_some()
    }
}

/// Returns the person in whose name something may be done in this write.
///
/// # Errors
/// [`ErrorKind::NotFound`] for a name that is not on the list; [`ErrorKind::Refused`] when signing
/// in is on and somebody else, or nobody, is signed in.
pub(super) fn acting(
    session: Option<&str>,
    write: &Write<'_>,
    by: &str,
) -> Result<StaffMember, DeskError> {
    acting_among(&write.staff()?, session, write, by)
}

/// As [`acting`], where the staff list has been read in this write.
pub(super) fn acting_among(
    staff: &StaffRoll,
    session: Option<&str>,
    write: &Write<'_>,
    by: &str,
) -> Result<StaffMember, DeskError> {
    let person = listed(staff, by)?;
    signed(session, write, Some(&person.name))?;
    Ok(person)
}

/// Refuses an action in another name than that of the signed-in person, where signing in is on.
pub(super) fn signed(
    session: Option<&str>,
    write: &Write<'_>,
    by: Option<&str>,
) -> Result<(), DeskError> {
    let security: Security = write.setting(SECURITY)?.unwrap_or_default();
    if !security.sign_in || (session.is_some() && session == by) {
        return Ok(());
    }
    let message = match (session, by) {
        (Some(session), Some(by)) => {
            format!("{session} is signed in, so nothing is done in the name of {by}")
        }
        (None, Some(by)) => format!("{by} is not signed in"),
        (_, None) => "this needs somebody who is signed in".to_owned(),
    };
    Err(DeskError::new(ErrorKind::Refused, message)
        .hint("sign in: on the screen by the key for who is acting, on the command line with --as NAME and the PIN"))
}

/// Whether everybody signs in.
///
/// # Errors
/// [`DeskError`] of the file.
pub(super) fn sign_in_is_on(write: &Write<'_>) -> Result<bool, DeskError> {
    let security: Option<Security> = write.setting(SECURITY)?;
    Ok(security.is_some_and(|s| s.sign_in))
}

impl Desk {
    /// Returns the settings of signing in.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn security(&self) -> Result<Security, DeskError> {
        Ok(self.store.setting(SECURITY)?.unwrap_or_default())
    }

    /// Returns who is signed in.
    pub fn signed_in(&self) -> Option<&str> {
        self.session.as_deref()
    }

    /// Ends the session.
    pub fn sign_out(&mut self) {
        self.session = None;
    }

    /// Returns the names of those who have a secret.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn with_secret(&self) -> Result<Vec<String>, DeskError> {
        Ok(self.store.with_secret()?)
    }

    /// Signs a person in by their secret.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] for a wrong secret, for a person without one, and before the wait that
    /// wrong attempts have caused is over. The wait is stored in the book: a restart does not
    /// shorten it, nor does another zone or a clock that is set back.
    pub fn sign_in(&mut self, name: &str, given: &str) -> Result<StaffMember, DeskError> {
        self.sign_in_told(name, given).map(|(person, _)| person)
    }

    /// As [`Desk::sign_in`]; also returns what the person is to be told about wrong attempts.
    ///
    /// # Errors
    /// As [`Desk::sign_in`].
    pub fn sign_in_told(
        &mut self,
        name: &str,
        given: &str,
    ) -> Result<(StaffMember, Option<String>), DeskError> {
        let (person, told) = self.prove(name, given)?;
        self.session = Some(person.name.clone());
        Ok((person, told))
    }

    /// Checks a person's secret; nobody is signed in by it. Also returns what the person is to be told
    /// about wrong attempts.
    ///
    /// # Errors
    /// As [`Desk::sign_in`].
    pub(super) fn prove(
        &mut self,
        name: &str,
        given: &str,
    ) -> Result<(StaffMember, Option<String>), DeskError> {
        let (now, now_s) = (self.clock.now(), self.clock.utc_s());
        let write = self.store.write()?;
        let person = listed(&write.staff()?, name)?;
        let Some(kept) = write.credential(&person.name)? else {
            return Err(DeskError::new(
                ErrorKind::Refused,
                format!("{} has no PIN or passphrase yet", person.name),
            )
            .hint("rimbook staff secret --name NAME sets one"));
        };
        let before = kept.attempts;
        if let Some(refused) = attempts::refused(&before, now_s) {
            let why = match refused {
                Refused::Wait(s) | Refused::WaitAgain(s) => {
                    format!(
                        "{} wrong attempts: the next is taken in {s} s",
                        before.count
                    )
                }
                Refused::Day(s) => format!(
                    "{} wrong attempts today: the next is taken in {} h; a registered person who is signed in can set a new PIN",
                    before.on_day,
                    s / 3600 + 1
                ),
            };
            if let Refused::WaitAgain(s) = refused {
                let again = Attempts {
                    waits_until_s: Some(now_s + s),
                    ..before
                };
                write.note_attempts(&person.name, again)?;
                write.commit()?;
            }
            return Err(DeskError::new(ErrorKind::Refused, why));
        }
        if !secret::fits(given, &kept.secret) {
            write.note_attempts(&person.name, attempts::after_wrong(&before, now_s))?;
            write.commit()?;
            return Err(DeskError::new(
                ErrorKind::Refused,
                "the PIN or passphrase is not right",
            ));
        }
        if before.count > 0 {
            let detail = json!({"wrong_attempts_before": before.count});
            write.practice_event(NewEvent {
                at: now,
                by: Some(&person.name),
                what: "signed in after wrong attempts",
                detail: &detail,
            })?;
        }
        write.note_attempts(&person.name, Attempts::default())?;
        write.commit()?;
        Ok((person, attempts::told(&before)))
    }

    /// Sets a person's secret. One's own, or another's by a registered person; the first secret of
    /// all may be set by anybody, because nobody can sign in yet.
    ///
    /// # Errors
    /// [`ErrorKind::Input`] for a secret that is too short or too easy; [`ErrorKind::Refused`] for
    /// somebody who may not.
    pub fn set_secret(&mut self, name: &str, given: &str, by: &str) -> Result<(), DeskError> {
        let kept = secret::hashed(given)?;
        self.long_enough_here(given)?;
        let (now, clock) = (self.clock.now(), self.clock);
        let write = self.store.write()?;
        let roll = write.staff()?;
        let person = listed(&roll, name)?;
        let setter = acting(self.session.as_deref(), &write, by)?;
        let own = setter.name == person.name;
        // An existing secret is changed only by its signed-in owner or by a signed-in
        // registered person: otherwise a name alone would be enough to take over an account.
        let proved = self.session.as_deref() == Some(setter.name.as_str());
        let is_first = write.credential(&person.name)?.is_none();
        let may = own || setter.is_registrant(write.practice()?.registration);
        if !may || !(is_first || proved) {
            return Err(DeskError::new(
                ErrorKind::Refused,
                format!(
                    "{} may not set the PIN or passphrase of {}",
                    setter.name, person.name
                ),
            )
            .hint("sign in first; another's is set by a dispensing optician or optometrist who is signed in"));
        }
        write.set_secret(&person.name, Some(&kept))?;
        let detail = with_trial_day(clock, json!({"of": person.name}));
        write.practice_event(NewEvent {
            at: now,
            by: Some(&setter.name),
            what: "secret set",
            detail: &detail,
        })?;
        write.commit()?;
        self.rewrap(&person.name, given)
    }

    /// Turns signing in on or off and sets when a screen is locked.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] unless a registered person with a secret does it; turning it off needs
    /// one who is signed in.
    pub fn set_security(&mut self, security: Security, by: &str) -> Result<(), DeskError> {
        let change = SecurityChange {
            sign_in: Some(security.sign_in),
            idle_minutes: Some(security.idle_minutes),
        };
        self.change_security(change, by).map(drop)
    }

    /// As [`Desk::set_security`] for what is named; the rest stays as it is in the book, whatever another
    /// desk has made of it. Returns what is set now.
    ///
    /// # Errors
    /// As [`Desk::set_security`].
    pub fn change_security(
        &mut self,
        change: SecurityChange,
        by: &str,
    ) -> Result<Security, DeskError> {
        let (now, clock) = (self.clock.now(), self.clock);
        let write = self.store.write()?;
        let person = acting_registrant(
            self.session.as_deref(),
            &write,
            by,
            "set how people sign in",
        )?;
        let before: Security = write.setting(SECURITY)?.unwrap_or_default();
        let security = Security {
            sign_in: change.sign_in.unwrap_or(before.sign_in),
            idle_minutes: change.idle_minutes.unwrap_or(before.idle_minutes),
        };
        if security.sign_in && write.credential(&person.name)?.is_none() {
            return Err(DeskError::new(
                ErrorKind::Refused,
                format!(
                    "{} has no PIN or passphrase yet: turning signing in on would shut everybody out",
                    person.name
                ),
            ));
        }
        if security.idle_minutes > LONGEST_IDLE_MINUTES {
            return Err(DeskError::new(
                ErrorKind::Input,
                format!(
                    "{} minutes: a screen is locked after 1 to {LONGEST_IDLE_MINUTES} minutes, 0 for never",
                    security.idle_minutes
                ),
            ));
        }
        write.set_setting(SECURITY, &security)?;
        // Whether a name holds a job depends on it.
        write.forget_held()?;
        let detail = with_trial_day(clock, json!({"from": before, "to": security}));
        write.practice_event(NewEvent {
            at: now,
            by: Some(&person.name),
            what: "signing in set",
            detail: &detail,
        })?;
        write.commit()?;
        Ok(security)
    }
}

/// Returns the person of a name on a staff list.
pub(super) fn listed(roll: &StaffRoll, name: &str) -> Result<StaffMember, DeskError> {
    roll.find(name).cloned().ok_or_else(|| {
        let names: Vec<&str> = roll.0.iter().map(|m| m.name.as_str()).collect();
        let hint = if names.is_empty() {
            "the staff list is empty: rimbook staff add --name NAME --role ROLE".to_owned()
        } else {
            format!("on the list: {}", names.join(", "))
        };
        DeskError::new(
            ErrorKind::NotFound,
            format!("{name:?} is not on the staff list"),
        )
        .hint(hint)
    })
}

/// Returns the person of a name, who acts and is registered.
///
/// # Errors
/// As [`acting`]; [`ErrorKind::Refused`] naming the role or the number that is needed.
pub(super) fn acting_registrant(
    session: Option<&str>,
    write: &Write<'_>,
    by: &str,
    to: &str,
) -> Result<StaffMember, DeskError> {
    let person = acting(session, write, by)?;
    registered(person, write.practice()?.registration, to)
}

/// Returns the person if registered.
///
/// # Errors
/// [`ErrorKind::Refused`] naming the role or the number that is needed.
fn registered(person: StaffMember, rule: NumberRule, to: &str) -> Result<StaffMember, DeskError> {
    if person.is_registrant(rule) {
        return Ok(person);
    }
    if person.lacks_number(rule) {
        return Err(DeskError::new(
            ErrorKind::Refused,
            format!(
                "{} has no registration number on the staff list: only a registered dispensing optician or optometrist may {to}",
                person.name
            ),
        )
        .hint(add_number(&person)));
    }
    Err(DeskError::new(
        ErrorKind::Refused,
        format!(
            "{} is {}: only a dispensing optician or optometrist may {to}",
            person.name,
            person.role.word()
        ),
    ))
}

/// Says by which command a missing registration number is added.
pub(super) fn add_number(person: &StaffMember) -> String {
    format!(
        "rimbook staff add --name {:?} --role {:?} --registration NUMBER adds it",
        person.name,
        person.role.word()
    )
}

/// Refuses to change the staff list unless a registered person is signed in, where signing in is on.
///
/// Where nobody on the list counts as registered, for want of numbers, somebody signed in whose role
/// is a registered one may: otherwise nobody could ever add the first number.
pub(super) fn may_add_staff(
    session: Option<&str>,
    write: &Write<'_>,
    roll: &StaffRoll,
) -> Result<(), DeskError> {
    let security: Security = write.setting(SECURITY)?.unwrap_or_default();
    if roll.0.is_empty() || !security.sign_in {
        return Ok(());
    }
    let Some(name) = session else {
        return signed(None, write, None);
    };
    let (person, rule) = (listed(roll, name)?, write.practice()?.registration);
    let nobody = !roll.0.iter().any(|m| m.is_registrant(rule));
    if nobody && person.role.is_registered() {
        return Ok(());
    }
    registered(person, rule, "add people").map(drop)
}
