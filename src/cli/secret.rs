//! Proving who somebody is on the command line: a prompt on the terminal, or a file only its owner
//! can read. Never an argument or an environment value: those are seen by other programs and kept
//! in the shell's history.

use std::io::{IsTerminal, Read};
use std::path::Path;

use zeroize::Zeroizing;

use super::Place;
use super::output::fail;
use crate::desk::{Desk, DeskError, ErrorKind};

/// More than any secret is: the file named is another one.
const MOST_BYTES: u64 = 4096;

/// A PIN or passphrase; it is overwritten when it is no longer needed.
pub(crate) type Secret = Zeroizing<String>;

impl Place {
    /// Opens the book and signs a person in where the practice asks for it.
    pub(super) fn open_as(&self, by: &str) -> Result<Desk, DeskError> {
        let mut desk = self.open()?;
        self.sign_in(&mut desk, by)?;
        Ok(desk)
    }

    /// Opens the book for something that need not be in anybody's name.
    pub(super) fn open_as_maybe(&self, by: Option<&str>) -> Result<Desk, DeskError> {
        match by {
            Some(by) => self.open_as(by),
            None => self.open(),
        }
    }

    /// Signs a person in where the practice asks for it.
    pub(super) fn sign_in(&self, desk: &mut Desk, by: &str) -> Result<(), DeskError> {
        let is_by = |name: &str| name.eq_ignore_ascii_case(by);
        if !desk.security()?.sign_in || desk.signed_in().is_some_and(is_by) {
            return Ok(());
        }
        let secret = self.secret(&format!("PIN or passphrase of {by}: "))?;
        desk.sign_in(by, &secret).map(drop)
    }

    /// Opens an encrypted book.
    pub(super) fn unlock(&self, file: &Path) -> Result<Desk, DeskError> {
        // No passphrase is asked for that could open nothing.
        if cfg!(not(feature = "encrypted")) {
            return Desk::unlock(file, self.clock, "");
        }
        let secret = self.secret("Passphrase of the book: ")?;
        Desk::unlock(file, self.clock, &secret)
    }

    /// Reads a secret from the file that was named, else from the terminal.
    pub(super) fn secret(&self, prompt: &str) -> Result<Secret, DeskError> {
        match &self.pin_file {
            Some(file) => from_file(file),
            None => ask(prompt),
        }
    }

    /// Reads a new secret: twice from the terminal, so that a slip shuts nobody out.
    pub(super) fn new_secret(&self, name: &str) -> Result<Secret, DeskError> {
        if let Some(file) = &self.pin_file {
            return from_file(file);
        }
        let first = ask(&format!("New PIN or passphrase of {name}: "))?;
        let second = ask("Once more: ")?;
        if first == second {
            Ok(first)
        } else {
            Err(fail(
                ErrorKind::Input,
                "the two were not the same; nothing was changed",
                &["try again"],
            ))
        }
    }
}

fn ask(prompt: &str) -> Result<Secret, DeskError> {
    let nowhere = || {
        fail(
            ErrorKind::Usage,
            "a PIN or passphrase is needed and there is no terminal to ask on",
            &["name a file that only you can read: --pin-file FILE"],
        )
    };
    if !std::io::stderr().is_terminal() && !std::io::stdin().is_terminal() {
        return Err(nowhere());
    }
    rpassword::prompt_password(prompt)
        .map(Zeroizing::new)
        .map_err(|_| nowhere())
}

fn from_file(file: &Path) -> Result<Secret, DeskError> {
    let cannot = |why: String| {
        fail(
            ErrorKind::File,
            format!("the PIN file {} {why}", file.display()),
            &[],
        )
    };
    let open = std::fs::File::open(file).map_err(|e| cannot(format!("cannot be read: {e}")))?;
    let about = open
        .metadata()
        .map_err(|e| cannot(format!("cannot be read: {e}")))?;
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let mode = about.permissions().mode() & 0o777;
        if mode & 0o077 != 0 {
            return Err(fail(
                ErrorKind::File,
                format!(
                    "the PIN file {} can be read by others (mode {mode:03o})",
                    file.display()
                ),
                &["make it yours alone: chmod 600 FILE"],
            ));
        }
    }
    if about.len() > MOST_BYTES {
        return Err(cannot(format!(
            "has {} bytes: a secret has no more than {MOST_BYTES}",
            about.len()
        )));
    }
    let mut text = Zeroizing::new(String::new());
    open.take(MOST_BYTES)
        .read_to_string(&mut text)
        .map_err(|e| cannot(format!("cannot be read: {e}")))?;
    // The line's end is the editor's, not the secret's.
    let secret = text.trim_end_matches(['\n', '\r']).to_owned();
    Ok(Zeroizing::new(secret))
}
