//! Restoring a backup.

use std::path::Path;

use super::error::{DeskError, ErrorKind};
use super::history::with_trial_day;
use super::open::Desk;
use super::session::acting_registrant;
use crate::book::clock::Clock;
use crate::book::store::key::{Key, is_encrypted};
use crate::book::store::{Prepared, Restored, Store, StoreError};

/// A request to restore.
#[derive(Debug, Clone, Copy)]
pub struct Restore<'a> {
    /// The backup.
    pub file: &'a Path,
    /// The book it is to replace.
    pub book: &'a Path,
    /// Who asks.
    pub by: &'a str,
    /// Their PIN or passphrase, where the practice asks for it.
    pub secret: Option<&'a str>,
}

/// Replaces the book by a backup; the replaced book is kept in the same directory.
///
/// The present book decides who may do it; the backup itself where there is no present
/// book, where it cannot be read, or where nobody is on its staff list.
///
/// # Errors
/// [`ErrorKind::Refused`] unless a registered person does it; [`ErrorKind::File`] for a file that is
/// no whole book, and while the book is open elsewhere. The book is then as it was.
pub fn restore(what: Restore<'_>, clock: Clock) -> Result<Restored, DeskError> {
    let present = match opened(what.book, what.secret) {
        Ok(store) => Some(store),
        Err(
            e @ (StoreError::Newer { .. }
            | StoreError::Busy
            | StoreError::Library(_)
            | StoreError::Locked(_)
            | StoreError::WrongPassphrase
            | StoreError::NoCipher),
        ) => {
            return Err(e.into());
        }
        Err(_) => None,
    };
    let of_present = present.filter(|s| s.staff().is_ok_and(|roll| !roll.0.is_empty()));
    let by = match of_present {
        // Checked before the backup is opened: it shows nothing to a person who may not restore it.
        Some(store) => Some(may(store, what, clock)?),
        None => None,
    };
    let key = key_of(what.file, what.secret)?;
    let prepared = Prepared::make(what.file, what.book, key)?;
    let by = match by {
        Some(by) => by,
        None => may(prepared.store()?, what, clock)?,
    };
    Ok(prepared.replace(clock.now(), &by, &|detail| with_trial_day(clock, detail))?)
}

/// Opens a book, with its key where it is encrypted.
fn opened(file: &Path, secret: Option<&str>) -> Result<Store, StoreError> {
    match key_of(file, secret)? {
        Some(key) => Store::open_with(file, key),
        None => Store::open(file),
    }
}

/// Returns the key of an encrypted file; `None` for a plain one.
fn key_of(file: &Path, secret: Option<&str>) -> Result<Option<Key>, StoreError> {
    if !is_encrypted(file) {
        return Ok(None);
    }
    let secret = secret.ok_or_else(|| StoreError::Locked(file.display().to_string()))?;
    crate::book::store::key_opened_by(file, secret).map(Some)
}

/// Returns the person's name as on the staff list, if they may restore.
fn may(store: Store, what: Restore<'_>, clock: Clock) -> Result<String, DeskError> {
    let mut desk = Desk {
        store,
        clock,
        session: None,
    };
    if desk.lacks_every_secret()? {
        // A copy holds no secret: the recovery code speaks for a registered person, where one was made.
        let person = desk.may_begin_again(what.by, what.secret)?;
        desk.session = Some(person.name);
    } else if let Some(secret) = what.secret
        && desk.security()?.sign_in
    {
        desk.sign_in(what.by, secret)?;
    }
    let session = desk.session.clone();
    let write = desk.store.write()?;
    let person = acting_registrant(
        session.as_deref(),
        &write,
        what.by,
        "put a backup in the place of the book",
    );
    person.map(|p| p.name).map_err(|e| match e.kind {
        ErrorKind::Refused => e.hint("the book was left as it is"),
        _ => e,
    })
}
