//! The book that a command works in: its file, its clock, and the secrets that open it.
//!
//! A secret is read from a prompt on the terminal or from a file only its owner can read, never from
//! an argument or an environment value: those are seen by other programs and kept in the shell's
//! history.

use std::io::{IsTerminal, Read};
use std::path::{Path, PathBuf};

use etcetera::BaseStrategy;
use zeroize::Zeroizing;

use super::output::{Output, fail};
use crate::book::clock::Clock;
use crate::book::desk::{self, Desk, DeskError, ErrorKind, is_encrypted};

/// Name of the environment variable that lets a book be opened on a network drive.
const ALLOW_NETWORK: &str = "RIMBOOK_ALLOW_NETWORK_DRIVE";
/// Largest PIN file that is read, bytes.
const MOST_BYTES: u64 = 4096;

/// A PIN or passphrase; it is overwritten when it is no longer needed.
pub(crate) type Secret = Zeroizing<String>;

/// The book of a command, its clock and its source of secrets.
pub(crate) struct BookPlace {
    pub(super) db: Option<PathBuf>,
    pub(super) clock: Clock,
    /// Where a PIN or passphrase is read instead of from the terminal.
    pub(super) pin_file: Option<PathBuf>,
    /// The book, when it was opened before the command itself needs it.
    pub(super) opened: std::cell::Cell<Option<Desk>>,
}

/// Returns the person's own directory for what the program keeps for itself; `None` without a home.
pub(super) fn state_directory() -> Option<PathBuf> {
    let strategy = etcetera::choose_base_strategy().ok()?;
    let state = strategy.state_dir().unwrap_or_else(|| strategy.data_dir());
    Some(state.join("rimbook"))
}

impl BookPlace {
    /// Returns the book's file: the one named, or the one in the user's data directory.
    pub(super) fn file(&self) -> Result<PathBuf, DeskError> {
        if let Some(db) = &self.db {
            return Ok(db.clone());
        }
        let strategy = etcetera::choose_base_strategy().map_err(|_| {
            fail(
                ErrorKind::File,
                "the user's data directory is not known: there is no home directory",
                &["name the book with --db FILE or RIMBOOK_DB"],
            )
        })?;
        Ok(strategy.data_dir().join("rimbook").join("book.db"))
    }

    /// Opens the existing book.
    pub(super) fn open(&self) -> Result<Desk, DeskError> {
        if let Some(desk) = self.opened.take() {
            return Ok(desk);
        }
        let file = self.file()?;
        let desk = if is_encrypted(&file) {
            self.unlock(&file)?
        } else {
            refuse_network_drive(&file)?;
            Desk::open(&file, self.clock)?
        };
        say_who_lacks_a_number(&desk);
        Ok(desk)
    }

    /// Returns the book's file and creates the program's own directory for it. A directory that
    /// the user named is not created: a slip in a path would start a second, empty book.
    pub(super) fn file_to_begin(&self) -> Result<PathBuf, DeskError> {
        let file = self.file()?;
        refuse_network_drive(&file)?;
        if self.db.is_none()
            && let Some(directory) = file.parent()
        {
            make_private(directory).map_err(|e| {
                fail(
                    ErrorKind::File,
                    format!("{} could not be made: {e}", directory.display()),
                    &["name the book with --db FILE or RIMBOOK_DB"],
                )
            })?;
        }
        Ok(file)
    }

    /// Keeps an open book for the command itself.
    pub(super) fn keep(&self, desk: Desk) {
        self.opened.set(Some(desk));
    }

    /// Opens the book, or creates an empty one.
    pub(super) fn open_or_create(&self) -> Result<Desk, DeskError> {
        let file = self.file_to_begin()?;
        if is_encrypted(&file) {
            return self.unlock(&file);
        }
        Desk::open_or_create(&file, self.clock)
    }
}

/// Says who of the staff list counts as not registered, and what to do about it.
fn say_who_lacks_a_number(desk: &Desk) {
    // What cannot be read fails in the command itself.
    for sentence in desk.without_number().unwrap_or_default() {
        Output::aside(&sentence);
    }
}

impl BookPlace {
    /// Opens the book and signs a person in where the practice asks for it.
    pub(super) fn open_as(&self, by: &str) -> Result<Desk, DeskError> {
        let mut desk = self.open()?;
        self.sign_in(&mut desk, by)?;
        Ok(desk)
    }

    /// Opens the book; signs in only if a name is given.
    pub(super) fn open_as_maybe(&self, by: Option<&str>) -> Result<Desk, DeskError> {
        match by {
            Some(by) => self.open_as(by),
            None => self.open(),
        }
    }

    /// Opens the book to look at jobs, or at all of them where no number is given. Where people sign in,
    /// it needs somebody, and that they looked is kept.
    pub(super) fn open_to_read(
        &self,
        by: Option<&str>,
        what: &str,
        numbers: &[&str],
    ) -> Result<Desk, DeskError> {
        let mut desk = self.open_as_maybe(by)?;
        desk.note_read(what, numbers)?;
        Ok(desk)
    }

    /// Signs a person in where the practice asks for it.
    pub(super) fn sign_in(&self, desk: &mut Desk, by: &str) -> Result<(), DeskError> {
        let is_by = |name: &str| name.eq_ignore_ascii_case(by);
        if !desk.security()?.sign_in || desk.signed_in().is_some_and(is_by) {
            return Ok(());
        }
        let secret = self.secret(&format!("PIN or passphrase of {by}: "))?;
        let (_, told) = desk.sign_in_told(by, &secret)?;
        if let Some(told) = told {
            Output::aside(&told);
        }
        Ok(())
    }

    /// Opens an encrypted book.
    pub(super) fn unlock(&self, file: &Path) -> Result<Desk, DeskError> {
        // A build without encryption does not ask for a passphrase.
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

pub(super) fn ask(prompt: &str) -> Result<Secret, DeskError> {
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

pub(super) fn from_file(file: &Path) -> Result<Secret, DeskError> {
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

/// Returns the book that `RIMBOOK_DB` names; `None` when it is unset or empty.
pub(super) fn named_by_environment() -> Option<PathBuf> {
    std::env::var_os("RIMBOOK_DB")
        .filter(|name| !name.is_empty())
        .map(PathBuf::from)
}

/// Makes a directory that only its owner can read: the book holds personal data.
fn make_private(directory: &Path) -> std::io::Result<()> {
    let mut builder = std::fs::DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder.create(directory)
}

/// Refuses a book on a drive that other machines write to.
fn refuse_network_drive(book: &Path) -> Result<(), DeskError> {
    let allowed = std::env::var_os(ALLOW_NETWORK).is_some_and(|v| !v.is_empty());
    match desk::network_drive(book) {
        Some(kind) if !allowed => Err(fail(
            ErrorKind::File,
            format!(
                "{} lies on a network drive ({kind}): two machines writing to it would damage the book",
                book.display()
            ),
            &[
                "move the book to a drive of this machine; the backups may go to the network",
                "only one machine ever uses it: set RIMBOOK_ALLOW_NETWORK_DRIVE=1",
            ],
        )),
        _ => Ok(()),
    }
}

/// Asks for a secret where a file is encrypted or the person must sign in.
pub(super) fn file_secret(
    place: &BookPlace,
    files: &[&Path],
    by: Option<&str>,
) -> Result<Option<Secret>, DeskError> {
    let is_sealed = files.iter().any(|f| is_encrypted(f));
    let signs_in = || {
        by.is_some()
            && files
                .first()
                .and_then(|book| Desk::open(book, place.clock).ok())
                .and_then(|desk| desk.security().ok())
                .is_some_and(|s| s.sign_in)
    };
    if place.pin_file.is_some() || is_sealed || signs_in() {
        let whose = by.map_or_else(String::new, |by| format!(" of {by}"));
        return place
            .secret(&format!("PIN or passphrase{whose}: "))
            .map(Some);
    }
    Ok(None)
}
