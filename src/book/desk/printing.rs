//! Sheets of a job as files, handed to the practice's programs for printing and showing.

use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use super::error::{DeskError, ErrorKind};
use super::open::Desk;
use super::programs::Program;
use crate::exchange::paper;
use crate::practice::command_words;
use crate::views::sheet::{Sheet, SheetKind, Subject, sheet};

/// How long the program waits for the print command.
const PATIENCE: Duration = Duration::from_secs(10);
/// Time between two looks at that program.
const LOOK: Duration = Duration::from_millis(20);

/// What happens to a sheet after it is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HandOver {
    /// Only the file is wanted.
    Keep,
    /// The practice's print command, where one is set.
    Print,
    /// The practice's viewer; an error where no viewer is set.
    Show,
    /// The print command, else the viewer, else only the file.
    PrintOrShow,
}

/// A sheet that was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Printed {
    /// Which.
    pub what: SheetKind,
    /// The file.
    pub file: PathBuf,
    /// Texts that could not be printed as recorded, a sentence each.
    pub notes: Vec<String>,
    /// What was done with the file, as part of a sentence; `None` where it was only written.
    pub handed: Option<&'static str>,
}

impl Desk {
    /// Returns a sheet of a job as data.
    ///
    /// # Errors
    /// [`ErrorKind::NotFound`] without such a job.
    pub fn sheet(&self, number: &str, what: SheetKind) -> Result<Sheet, DeskError> {
        let open = self.load(number)?;
        let practice = self.practice()?;
        Ok(sheet(
            what,
            Subject {
                job: &open.job,
                number: &open.number,
                practice: &practice,
                today: self.today(),
            },
        ))
    }

    /// Writes a sheet as a PDF that only its owner can read, and hands it over.
    ///
    /// `out` is a file that does not exist yet; without it the file lies in the user's runtime
    /// directory or, where there is none, in the book's directory, named by number and sheet alone, and
    /// replaces the one printed before.
    ///
    /// # Errors
    /// [`ErrorKind::NotFound`] without such a job, [`ErrorKind::File`] when it cannot be written or
    /// the program does not run.
    pub fn print(
        &self,
        number: &str,
        what: SheetKind,
        out: Option<&Path>,
        hand_over: HandOver,
    ) -> Result<Printed, DeskError> {
        let sheet = self.sheet(number, what)?;
        let written = paper::pdf(&sheet).map_err(|e| {
            DeskError::new(ErrorKind::File, e.to_string())
                .hint("rimbook print NUMBER --what SHEET --format text writes it as text")
        })?;
        let printing = self.practice()?.printing;
        let shown = match hand_over {
            HandOver::Show => true,
            HandOver::PrintOrShow => printing.command.trim().is_empty(),
            HandOver::Keep | HandOver::Print => false,
        };
        let command = match (hand_over, shown) {
            (HandOver::Keep, _) => None,
            (_, true) => Some((printing.viewer.as_str(), false)),
            (_, false) => Some((printing.command.as_str(), true)),
        };
        if hand_over == HandOver::Show && printing.viewer.trim().is_empty() {
            return Err(
                DeskError::new(ErrorKind::Usage, "no program that shows a sheet is set")
                    .hint("rimbook practice set viewer PROGRAM --as STAFF sets one")
                    .hint("--out FILE writes the sheet where you want it"),
            );
        }
        if let Some((command, wait)) = command
            && !command.trim().is_empty()
        {
            self.known_program(if wait {
                Program::Printer
            } else {
                Program::Viewer
            })?;
        }
        let file = if let Some(file) = out {
            write_new(file, &written.bytes)?;
            file.to_owned()
        } else {
            let book = self.store.path().unwrap_or_default();
            write_in_place(&book, number, what, &written.bytes)?
        };
        let handed = match command {
            Some((command, wait)) => run(command, &file, wait)?,
            None => None,
        };
        Ok(Printed {
            what,
            file,
            notes: written.notes,
            handed,
        })
    }
}

/// The name of a sheet's file: number and sheet, never a person's name, and nothing that a path
/// gives a meaning to.
fn file_name(number: &str, what: SheetKind) -> String {
    let safe: String = number
        .chars()
        .take(40)
        .map(|c| if c.is_ascii_alphanumeric() { c } else { '_' })
        .collect();
    format!("job-{safe}-{}.pdf", what.word())
}

/// The user's runtime directory, which is private and emptied at logout; else a directory in that of
/// the book.
fn directory(book: &Path) -> PathBuf {
    let runtime = std::env::var_os("XDG_RUNTIME_DIR")
        .map(PathBuf::from)
        .filter(|d| d.is_absolute() && d.is_dir());
    match runtime {
        Some(runtime) => runtime.join("rimbook"),
        None => book.parent().unwrap_or(Path::new("")).join("sheets"),
    }
}

/// Removes the sheets of a job that the program named itself; returns how many there were. A file
/// named by whoever printed it is not known.
pub(super) fn remove_sheets(book: &Path, number: &str) -> usize {
    let beside = book.parent().unwrap_or(Path::new("")).join("sheets");
    let mut places = vec![directory(book)];
    if !places.contains(&beside) {
        places.push(beside);
    }
    let files = places
        .iter()
        .flat_map(|place| SheetKind::ALL.map(|what| place.join(file_name(number, what))));
    files.filter(|file| fs::remove_file(file).is_ok()).count()
}

fn file_error(file: &Path, e: &std::io::Error) -> DeskError {
    DeskError::new(
        ErrorKind::File,
        format!("{} could not be written: {e}", file.display()),
    )
    .hint("--out FILE names a file that does not exist yet")
}

/// Writes a file that must not exist yet and that only its owner can read.
pub(super) fn write_new(file: &Path, bytes: &[u8]) -> Result<(), DeskError> {
    let mut options = fs::OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let written = options.open(file).and_then(|mut f| {
        f.write_all(bytes)
            .inspect_err(|_| fs::remove_file(file).unwrap_or_default())
    });
    written.map_err(|e| file_error(file, &e))
}

/// Writes the file of a sheet in the place of the one before: complete or not at all.
fn write_in_place(
    book: &Path,
    number: &str,
    what: SheetKind,
    bytes: &[u8],
) -> Result<PathBuf, DeskError> {
    let directory = directory(book);
    let mut builder = fs::DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder
        .create(&directory)
        .map_err(|e| file_error(&directory, &e))?;
    let file = directory.join(file_name(number, what));
    let part = directory.join(format!(
        "{}.{}.part",
        file_name(number, what),
        std::process::id()
    ));
    // An earlier process of the same id was killed and did not remove it.
    fs::remove_file(&part).unwrap_or_default();
    write_new(&part, bytes)?;
    fs::rename(&part, &file).map_err(|e| {
        fs::remove_file(&part).unwrap_or_default();
        file_error(&file, &e)
    })?;
    Ok(file)
}

/// Runs a program on a file, without a shell; its output is discarded.
fn run(command: &str, file: &Path, wait: bool) -> Result<Option<&'static str>, DeskError> {
    let kind = if wait { "print command" } else { "viewer" };
    let setting = if wait { "print-command" } else { "viewer" };
    let failed = |why: String| {
        DeskError::new(
            ErrorKind::File,
            format!(
                "the sheet is written to {}, but the {kind} {why}",
                file.display()
            ),
        )
        .hint(format!(
            "rimbook practice set {setting} PROGRAM --as STAFF sets another one"
        ))
    };
    let name = file
        .to_str()
        .ok_or_else(|| failed("cannot be given its name: it is no text".to_owned()))?;
    let Some(words) =
        command_words(command, name).map_err(|why| failed(format!("is not right: {why}")))?
    else {
        return Ok(None);
    };
    let [program, arguments @ ..] = words.as_slice() else {
        return Ok(None);
    };
    let mut child = Command::new(program)
        .args(arguments)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .map_err(|e| failed(format!("did not start: {e}")))?;
    if wait {
        let looks = PATIENCE.as_millis() / LOOK.as_millis();
        for _ in 0..looks {
            match child.try_wait() {
                Ok(Some(status)) if status.success() => return Ok(Some("sent to the printer")),
                Ok(Some(status)) => return Err(failed(format!("ended with {status}"))),
                Ok(None) => std::thread::sleep(LOOK),
                Err(e) => return Err(failed(format!("cannot be followed: {e}"))),
            }
        }
    }
    // Waits for its end, or it would remain a zombie process.
    std::thread::spawn(move || child.wait());
    Ok(Some(if wait {
        "given to the print command, which is still at work"
    } else {
        "opened in the viewer"
    }))
}

#[cfg(test)]
mod tests {
    use super::file_name;
    use crate::views::sheet::SheetKind;

    #[test]
    fn a_file_is_named_by_number_and_sheet_and_stays_in_its_directory() {
        assert_eq!(file_name("1042", SheetKind::Tray), "job-1042-tray.pdf");
        assert_eq!(
            file_name("../a b;c", SheetKind::Wearer),
            "job-___a_b_c-wearer.pdf"
        );
    }
}
