//! Which programs a book may run on this machine.
//!
//! A book names the programs that print and show its sheets, and may come from elsewhere or have been
//! changed in its file. So such a program runs only where the person of this account has set it, or
//! agreed to it: a note about it lies in the person's own directory, outside the book.

use std::fs;
use std::io;
use std::path::PathBuf;
use std::sync::OnceLock;

use sha2::{Digest, Sha256};

use super::error::{DeskError, ErrorKind};
use super::open::Desk;
use crate::practice::Practice;

/// Where the notes lie.
static NOTES: OnceLock<PathBuf> = OnceLock::new();

/// Says where the notes lie; without it, no program of a book runs.
pub(crate) fn keep_agreed_programs_in(directory: PathBuf) {
    // A second call changes nothing: the program says it once, as it starts.
    NOTES.set(directory).unwrap_or_default();
}

/// A program that a book may run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Program {
    /// The one that prints a sheet.
    Printer,
    /// The one that shows it.
    Viewer,
}

impl Program {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Printer, Self::Viewer];

    /// The key of its setting.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Printer => "print-command",
            Self::Viewer => "viewer",
        }
    }

    /// The program of a setting's key.
    pub fn of_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|p| p.key() == key)
    }

    /// Its command.
    pub(super) fn of(self, practice: &Practice) -> &str {
        match self {
            Self::Printer => practice.printing.command.trim(),
            Self::Viewer => practice.printing.viewer.trim(),
        }
    }
}

/// The name of the note about a command of a book.
fn note(book: &str, program: Program, command: &str) -> String {
    let mut sha = Sha256::new();
    for part in [book, program.key(), command] {
        sha.update(u64::try_from(part.len()).unwrap_or(u64::MAX).to_le_bytes());
        sha.update(part);
    }
    let bytes = sha.finalize();
    bytes.iter().fold("program-".to_owned(), |name, byte| {
        format!("{name}{byte:02x}")
    })
}

impl Desk {
    /// Returns the command of a program that nobody set or agreed to in this account; `None` where none
    /// is set, or it is known here.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn unknown_program(&self, program: Program) -> Result<Option<String>, DeskError> {
        let practice = self.practice()?;
        let command = program.of(&practice);
        if command.is_empty() {
            return Ok(None);
        }
        let book = self.store.known_book_id()?.unwrap_or_default();
        let is_known = NOTES
            .get()
            .is_some_and(|notes| notes.join(note(&book, program, command)).exists());
        Ok((!is_known).then(|| command.to_owned()))
    }

    /// Refuses a program that nobody set or agreed to in this account.
    ///
    /// # Errors
    /// [`ErrorKind::Refused`] with the command.
    pub(super) fn known_program(&self, program: Program) -> Result<(), DeskError> {
        let Some(command) = self.unknown_program(program)? else {
            return Ok(());
        };
        Err(DeskError::new(
            ErrorKind::Refused,
            format!("this book would run a program that was not set in this account: {command}"),
        )
        .hint(format!(
            "if that is right: rimbook practice set {} COMMAND --as STAFF, with the same command",
            program.key()
        ))
        .hint("--out FILE writes the sheet and runs nothing"))
    }

    /// Notes that the command of a program, as it is in the book, may run in this account.
    ///
    /// # Errors
    /// [`ErrorKind::File`] when the note cannot be written.
    pub fn agree_to_program(&self, program: Program) -> Result<(), DeskError> {
        let practice = self.practice()?;
        let command = program.of(&practice);
        let Some(directory) = NOTES.get().filter(|_| !command.is_empty()) else {
            return Ok(());
        };
        let book = self.store.known_book_id()?.unwrap_or_default();
        make(directory, &note(&book, program, command)).map_err(|e| {
            DeskError::new(
                ErrorKind::File,
                format!(
                    "{} cannot note that the program may run: {e}",
                    directory.display()
                ),
            )
        })
    }
}

/// Makes an empty file that only its owner can read, in a directory of the same kind.
fn make(directory: &std::path::Path, name: &str) -> io::Result<()> {
    let mut builder = fs::DirBuilder::new();
    builder.recursive(true);
    let mut options = fs::OpenOptions::new();
    options.write(true).create(true).truncate(false);
    #[cfg(unix)]
    {
        std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    }
    builder.create(directory)?;
    options.open(directory.join(name)).map(drop)
}
