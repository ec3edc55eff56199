//! The recovery code of sign-in: who sets the first PIN where a book has come to a machine without any.
//!
//! Copies of a book hold no secret of anybody, so after a restore on another machine nobody can sign in.
//! A registered person then sets the first PIN, with this code where one was made. Its hash stays in the
//! book and its copies: 128 random bits cannot be guessed, as a PIN can.

use serde_json::json;
use zeroize::Zeroizing;

use super::error::{DeskError, ErrorKind};
use super::history::with_trial_day;
use super::open::Desk;
use super::secret;
use super::session::{acting_registrant, listed, sign_in_is_on};
use crate::book::store::NewEvent;
use crate::job::StaffMember;

/// Name of the setting that holds the hash.
const RECOVERY: &str = "sign_in_recovery";
/// Bytes of a code.
const BYTES: usize = 16;

/// A code as it is written down: eight groups of four digits and letters.
fn written(bytes: [u8; BYTES]) -> Zeroizing<String> {
    let groups: Vec<String> = bytes
        .chunks(2)
        .map(|two| match two {
            [a, b] => format!("{a:02x}{b:02x}"),
            _ => String::new(),
        })
        .collect();
    Zeroizing::new(groups.join("-"))
}

/// A code as it is hashed: without blanks and hyphens, in small letters.
fn plain(code: &str) -> Zeroizing<String> {
    let kept = code.chars().filter(char::is_ascii_alphanumeric);
    Zeroizing::new(kept.collect::<String>().to_ascii_lowercase())
}

impl Desk {
    /// Makes a new recovery code of sign-in; an earlier one is worth nothing from then on.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] unless a registered person does it, signed in where people sign in.
    pub fn new_sign_in_code(&mut self, by: &str) -> Result<Zeroizing<String>, DeskError> {
        let mut bytes = [0; BYTES];
        getrandom::fill(&mut bytes).map_err(|_| {
            DeskError::new(
                ErrorKind::File,
                "the system gave no random bytes; nothing was changed",
            )
        })?;
        let code = written(bytes);
        let kept = secret::hashed(&plain(&code))?;
        let (now, clock) = (self.clock.now(), self.clock);
        let write = self.store.write()?;
        let person = acting_registrant(
            self.session.as_deref(),
            &write,
            by,
            "make a recovery code of sign-in",
        )?;
        write.set_setting(RECOVERY, &kept)?;
        write.practice_event(NewEvent {
            at: now,
            by: Some(&person.name),
            what: "recovery code of sign-in made",
            detail: &with_trial_day(clock, json!({})),
        })?;
        write.commit()?;
        Ok(code)
    }

    /// Whether people sign in and nobody can, because nobody has a PIN or passphrase.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn lacks_every_secret(&self) -> Result<bool, DeskError> {
        Ok(self.security()?.sign_in && self.with_secret()?.is_empty())
    }

    /// Whether a recovery code of sign-in was made.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn has_sign_in_code(&self) -> Result<bool, DeskError> {
        Ok(self.store.setting::<String>(RECOVERY)?.is_some())
    }

    /// Checks whether somebody may act for whom nobody has a secret: registered, and with the recovery
    /// code where one was made.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] otherwise, and where somebody has a secret.
    pub(super) fn may_begin_again(
        &self,
        name: &str,
        code: Option<&str>,
    ) -> Result<StaffMember, DeskError> {
        let refused = |why: &str| DeskError::new(ErrorKind::Refused, why.to_owned());
        let person = listed(&self.store.staff()?, name)?;
        if !self.lacks_every_secret()? {
            return Err(refused("somebody has a PIN or passphrase: sign in with it"));
        }
        if !person.is_registrant(self.practice()?.registration) {
            return Err(refused(
                "nobody has a PIN or passphrase on this machine: a registered dispensing optician or optometrist sets the first",
            ));
        }
        let kept = self.store.setting::<String>(RECOVERY)?;
        match (kept, code) {
            (None, _) => Ok(person),
            (Some(kept), Some(code)) if secret::fits(&plain(code), &kept) => Ok(person),
            (Some(_), Some(_)) => Err(refused("that is not the recovery code of sign-in")),
            (Some(_), None) => Err(refused("the recovery code of sign-in is needed")
                .hint("it was printed by rimbook staff recovery-code; restore reads it with --pin-file FILE, staff secret with --recovery FILE")),
        }
    }

    /// Sets the first PIN or passphrase in a book that came to this machine without any; the person is
    /// signed in then.
    ///
    /// # Errors
    /// [`ErrorKind::Input`] for a secret that is too easy; [`ErrorKind::Refused`] for somebody not
    /// registered, without the recovery code where one was made, and where somebody has a secret.
    pub fn set_first_secret(
        &mut self,
        name: &str,
        given: &str,
        code: Option<&str>,
    ) -> Result<(), DeskError> {
        let person = self.may_begin_again(name, code)?;
        let kept = secret::hashed(given)?;
        self.long_enough_here(given)?;
        let (now, clock) = (self.clock.now(), self.clock);
        let write = self.store.write()?;
        // Two at once: the second has to sign in.
        if !sign_in_is_on(&write)? || write.has_secrets()? {
            return Err(DeskError::new(
                ErrorKind::Refused,
                "somebody has set a PIN or passphrase meanwhile",
            ));
        }
        write.set_secret(&person.name, Some(&kept))?;
        let detail = json!({"of": person.name, "first": true, "with_code": code.is_some()});
        write.practice_event(NewEvent {
            at: now,
            by: Some(&person.name),
            what: "secret set",
            detail: &with_trial_day(clock, detail),
        })?;
        write.commit()?;
        self.session = Some(person.name.clone());
        self.rewrap(&person.name, given)
    }
}
