//! An encrypted book at the desk: opening it with a passphrase, encrypting one, a new recovery code.
//!
//! In a build without the feature `encrypted` each of these says so.

use std::path::Path;

use zeroize::Zeroizing;

use super::error::DeskError;
use super::open::Desk;
use crate::book::clock::Clock;
#[cfg(not(feature = "encrypted"))]
use crate::book::store::StoreError;

impl Desk {
    /// Opens a book, plain or encrypted; the passphrase matters for an encrypted one alone.
    ///
    /// # Errors
    /// As [`Desk::open`] and [`Desk::unlock`]; [`super::ErrorKind::Locked`] for an encrypted book
    /// without a passphrase.
    pub fn open_by(path: &Path, clock: Clock, passphrase: Option<&str>) -> Result<Self, DeskError> {
        match passphrase {
            Some(passphrase) if is_encrypted(path) => Self::unlock(path, clock, passphrase),
            _ => Self::open(path, clock),
        }
    }
}

/// Whether the book at a path is encrypted.
pub fn is_encrypted(path: &Path) -> bool {
    crate::book::store::key::is_encrypted(path)
}

#[cfg(feature = "encrypted")]
mod with_cipher {
    use serde_json::json;

    use super::{Clock, Desk, DeskError, Path, Zeroizing};
    use crate::book::desk::error::ErrorKind;
    use crate::book::desk::history::with_trial_day;
    use crate::book::desk::session::acting_registrant;
    use crate::book::store::keyring::{Keyring, RECOVERY, SHORTEST, new_code, new_key};
    use crate::book::store::{NewEvent, Store, StoreError};

    impl Desk {
        /// Opens an encrypted book with the passphrase of anybody who has one, or the recovery code.
        ///
        /// Whose passphrase it is has proved who they are: that person is signed in.
        ///
        /// # Errors
        /// [`DeskError`] for a passphrase that opens no key, and as [`Desk::open`].
        pub fn unlock(path: &Path, clock: Clock, passphrase: &str) -> Result<Self, DeskError> {
            let ring = Keyring::of_book(path)?;
            let (who, key) = ring.open(passphrase).ok_or(StoreError::WrongPassphrase)?;
            let mut desk = Self {
                store: Store::open_with(path, key)?,
                clock,
                session: None,
            };
            desk.session = desk.staff()?.find(who).map(|m| m.name.clone());
            Ok(desk)
        }

        /// Encrypts a book in its place and returns the recovery code, which is kept nowhere.
        ///
        /// # Errors
        /// [`ErrorKind::Refused`] unless a registered person does it; [`ErrorKind::Busy`] while
        /// another process has the book open; [`ErrorKind::Input`] for a short passphrase. The book is
        /// then as it was.
        pub fn encrypt(
            mut self,
            path: &Path,
            by: &str,
            passphrase: &str,
        ) -> Result<Zeroizing<String>, DeskError> {
            if self.store.key().is_some() {
                return Err(DeskError::new(
                    ErrorKind::Refused,
                    "the book is encrypted already",
                ));
            }
            long_enough(passphrase)?;
            let (now, clock) = (self.clock.now(), self.clock);
            let write = self.store.write()?;
            let person =
                acting_registrant(self.session.as_deref(), &write, by, "encrypt the book")?;
            write.practice_event(NewEvent {
                at: now,
                by: Some(&person.name),
                what: "encrypted",
                detail: &with_trial_day(clock, json!({})),
            })?;
            write.commit()?;
            // Encrypting needs the book to have no open connection.
            drop(self);
            let (key, code) = (new_key()?, new_code()?);
            let mut ring = Keyring::default();
            ring.wrap(&person.name, &key, passphrase)?;
            ring.wrap(RECOVERY, &key, &code)?;
            // The keys are written first: a book without its key would be lost.
            ring.keep(path)?;
            crate::book::store::encrypt::encrypt(path, &key)?;
            Ok(code)
        }

        /// Makes a new recovery code; the earlier one no longer opens the book.
        ///
        /// # Errors
        /// [`ErrorKind::Refused`] unless a registered person who is signed in does it.
        pub fn new_recovery_code(
            &mut self,
            path: &Path,
            by: &str,
        ) -> Result<Zeroizing<String>, DeskError> {
            let (now, clock) = (self.clock.now(), self.clock);
            let Some(key) = self.store.key().cloned() else {
                return Err(DeskError::new(
                    ErrorKind::Refused,
                    "the book is not encrypted: there is nothing to recover",
                ));
            };
            let code = new_code()?;
            let write = self.store.write()?;
            let person = acting_registrant(
                self.session.as_deref(),
                &write,
                by,
                "make a new recovery code",
            )?;
            write.practice_event(NewEvent {
                at: now,
                by: Some(&person.name),
                what: "recovery code made",
                detail: &with_trial_day(clock, json!({})),
            })?;
            let mut ring = Keyring::of_book(path)?;
            ring.wrap(RECOVERY, &key, &code)?;
            ring.keep(path)?;
            write.commit()?;
            Ok(code)
        }

        /// Lets a person's new passphrase open the book, in place of their old one.
        pub(in crate::book::desk) fn rewrap(
            &self,
            name: &str,
            passphrase: &str,
        ) -> Result<(), DeskError> {
            let (Some(key), Some(path)) = (self.store.key(), self.store.path()) else {
                return Ok(());
            };
            let mut ring = Keyring::of_book(&path)?;
            ring.wrap(name, key, passphrase)?;
            Ok(ring.keep(&path)?)
        }

        /// Refuses a secret that is too short to protect an encrypted book.
        pub(in crate::book::desk) fn long_enough_here(
            &self,
            secret: &str,
        ) -> Result<(), DeskError> {
            if self.store.key().is_some() {
                return long_enough(secret);
            }
            Ok(())
        }
    }

    fn long_enough(passphrase: &str) -> Result<(), DeskError> {
        let letters = passphrase.chars().count();
        if letters < SHORTEST {
            return Err(DeskError::new(
                ErrorKind::Input,
                format!(
                    "a passphrase that opens an encrypted book has at least {SHORTEST} characters; this one has {letters}"
                ),
            )
            .hint("three or four words that nobody would put together"));
        }
        Ok(())
    }
}

#[cfg(not(feature = "encrypted"))]
impl Desk {
    /// Refuses: this build opens no encrypted books.
    ///
    /// # Errors
    /// Always.
    pub fn unlock(_path: &Path, _clock: Clock, _passphrase: &str) -> Result<Self, DeskError> {
        Err(StoreError::NoCipher.into())
    }

    /// Refuses: this build encrypts no books.
    ///
    /// # Errors
    /// Always.
    pub fn encrypt(
        self,
        _path: &Path,
        _by: &str,
        _passphrase: &str,
    ) -> Result<Zeroizing<String>, DeskError> {
        Err(StoreError::NoCipher.into())
    }

    /// Refuses: this build opens no encrypted books.
    ///
    /// # Errors
    /// Always.
    pub fn new_recovery_code(
        &mut self,
        _path: &Path,
        _by: &str,
    ) -> Result<Zeroizing<String>, DeskError> {
        Err(StoreError::NoCipher.into())
    }

    #[allow(
        clippy::unused_self,
        clippy::unnecessary_wraps,
        reason = "the same words as where there is something to do"
    )]
    pub(super) fn rewrap(&self, _name: &str, _passphrase: &str) -> Result<(), DeskError> {
        Ok(())
    }

    #[allow(
        clippy::unused_self,
        clippy::unnecessary_wraps,
        reason = "the same words as where there is something to do"
    )]
    pub(super) fn long_enough_here(&self, _secret: &str) -> Result<(), DeskError> {
        Ok(())
    }
}
