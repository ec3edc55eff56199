//! The command line: the same desk as the screens, for scripts, scanners and screen readers.
//!
//! Exit status: 0 done; 1 failed; 2 wrong usage; 3 held by the gate, nothing changed.

mod again;
mod args;
mod calendar;
mod care;
mod contact;
mod encryption;
mod exchange;
mod figures;
mod look;
mod moves;
mod output;
pub mod pages;
mod people;
mod practice;
mod practice_book;
mod print;
mod protect;
mod record;
mod secret;
mod stream;
mod tray;
mod version;
mod visit;

use std::path::PathBuf;
use std::process::ExitCode;

use clap::Parser;
use etcetera::BaseStrategy;

use crate::clock::Clock;
use crate::desk::{Desk, DeskError, ErrorKind, is_encrypted};
use args::{Arguments, Command};
use output::{Outcome, Output, fail};

/// Where a command works.
struct Place {
    db: Option<PathBuf>,
    clock: Clock,
    /// Where a PIN or passphrase is read instead of from the terminal.
    pin_file: Option<PathBuf>,
    /// The book, when it was opened before the command itself needs it.
    opened: std::cell::Cell<Option<Desk>>,
}

impl Place {
    /// Returns the book's file: the one named, or the one in the user's data directory.
    fn file(&self) -> Result<PathBuf, DeskError> {
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

    /// Opens the book that is there.
    fn open(&self) -> Result<Desk, DeskError> {
        if let Some(desk) = self.opened.take() {
            return Ok(desk);
        }
        let file = self.file()?;
        if is_encrypted(&file) {
            return self.unlock(&file);
        }
        care::refuse_network_drive(&file)?;
        Desk::open(&file, self.clock)
    }

    /// Returns the book's file, with the program's own directory made for it. A directory that
    /// somebody named is not made: a slip in a path would start a second, empty book.
    fn file_to_begin(&self) -> Result<PathBuf, DeskError> {
        let file = self.file()?;
        care::refuse_network_drive(&file)?;
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

    /// Keeps an open book for whoever opens it next.
    fn keep(&self, desk: Desk) {
        self.opened.set(Some(desk));
    }

    /// Opens the book, beginning an empty one if there is none.
    fn open_or_create(&self) -> Result<Desk, DeskError> {
        let file = self.file_to_begin()?;
        if is_encrypted(&file) {
            return self.unlock(&file);
        }
        Desk::open_or_create(&file, self.clock)
    }
}

/// Returns the book that `RIMBOOK_DB` names; an empty value names none.
fn named_by_environment() -> Option<PathBuf> {
    std::env::var_os("RIMBOOK_DB")
        .filter(|name| !name.is_empty())
        .map(PathBuf::from)
}

/// Makes a directory that only its owner can read: the book holds personal data.
fn make_private(directory: &std::path::Path) -> std::io::Result<()> {
    let mut builder = std::fs::DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder.create(directory)
}

/// Runs the program with the arguments it was started with.
pub fn run() -> ExitCode {
    // Most starts say nothing, and then nothing has to be taken apart.
    if std::env::args_os().len() == 1 {
        return with(Arguments::default());
    }
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(error) => return refuse_arguments(&error),
    };
    with(arguments)
}

fn with(arguments: Arguments) -> ExitCode {
    let mut output = Output::new(arguments.json);
    let clock = match Clock::from_environment() {
        Ok(clock) => clock,
        Err(message) => return output.finish(&Err(fail(ErrorKind::Usage, message, &[]))),
    };
    let place = Place {
        db: arguments.db.or_else(named_by_environment),
        clock,
        pin_file: arguments.pin_file,
        opened: std::cell::Cell::default(),
    };
    let Some(mut command) = arguments.command else {
        return open_screens(output, &place);
    };
    if let Command::Demo(demo) = &command {
        return practice_book::demo(output, demo, clock);
    }
    let result =
        tray::resolve(&place, &mut command).and_then(|()| dispatch(command, &place, &mut output));
    output.finish(&result)
}

fn open_screens(output: Output, place: &Place) -> ExitCode {
    if output.json {
        return output.finish(&Err(fail(
            ErrorKind::Usage,
            "--json needs a command: the screens have no JSON answer",
            &["rimbook --help lists the commands"],
        )));
    }
    let begun = place.file_to_begin().and_then(|file| {
        let unlocked = if is_encrypted(&file) {
            Some(place.open()?)
        } else {
            None
        };
        Ok((file, unlocked))
    });
    match begun {
        Ok((file, unlocked)) => crate::term::run(&file, place.clock, unlocked),
        Err(error) => output.finish(&Err(error)),
    }
}

fn dispatch(command: Command, place: &Place, out: &mut Output) -> Result<Outcome, DeskError> {
    match command {
        Command::Demo(_) => Ok(Outcome::Done),
        Command::Import(i) => record::import(place, out, &i),
        Command::Record(r) => record::record(place, out, &r),
        Command::Staff { what } => people::staff(place, out, what),
        Command::Export(e) => look::export(place, out, &e),
        Command::Calendar(c) => calendar::calendar(place, out, &c),
        Command::List(l) => look::list(place, out, &l),
        Command::Find { text, limit } => look::find(place, out, &text.join(" "), limit),
        Command::Figures(f) => figures::figures(place, out, &f),
        Command::Show { number, aloud } => look::show(place, out, &number, aloud),
        Command::Check { number, to, all: _ } => look::check(place, out, number.as_deref(), to),
        Command::Checks { markdown } => {
            look::checks(out, markdown);
            Ok(Outcome::Done)
        }
        Command::Advance { number, to, by } => moves::advance(place, out, &number, to, &by),
        Command::Accept(a) => moves::accept(place, out, &a),
        Command::SendBack { number, by, reason } => {
            moves::send_back(place, out, &number, &by, &reason)
        }
        Command::Begin(b) => again::begin(place, out, &b),
        Command::Repair(r) => again::repair(place, out, &r),
        Command::Contact(c) => contact::contact(place, out, &c),
        Command::Recheck { number, by } => moves::recheck(place, out, &number, &by),
        Command::Visit { number } => visit::show(place, out, &number),
        Command::Remake { number, by } => visit::remake(place, out, &number, &by),
        Command::Cancel { number, by, reason } => moves::cancel(place, out, &number, &by, &reason),
        Command::Encrypt { by } => encryption::encrypt(place, out, &by),
        Command::RecoveryCode { by } => encryption::recovery_code(place, out, &by),
        Command::Backup(b) => care::backup(place, out, &b),
        Command::Restore { file, by } => care::restore(place, out, &file, &by),
        Command::Doctor { repair, by } => care::doctor(place, out, repair, by.as_deref()),
        Command::Retention(r) => protect::retention(place, out, &r),
        Command::Erase(e) => protect::erase(place, out, &e),
        Command::Access(a) => protect::access(place, out, &a),
        Command::Print(p) => print::print(place, out, &p),
        Command::Practice { what } => practice::practice(place, out, what),
        Command::Calc => stream::calc(),
        Command::Rx => stream::rx(),
        Command::Man { command } => pages::man(out, &command),
        Command::Completions { shell } => Ok(pages::complete(out, shell)),
    }
}

/// Answers arguments that cannot be read, and the requests for help and version.
fn refuse_arguments(error: &clap::Error) -> ExitCode {
    let text = error.render().to_string();
    if !error.use_stderr() {
        let mut output = Output::new(false);
        output.page(&text);
        return output.finish(&Ok(Outcome::Done));
    }
    let json = std::env::args_os()
        .skip(1)
        .take_while(|a| a != "--")
        .any(|a| a == "--json");
    if json {
        let mut said = text.lines().map(str::trim).filter(|l| !l.is_empty());
        let message = said.next().unwrap_or("the arguments cannot be read");
        let message = message
            .strip_prefix("error: ")
            .unwrap_or(message)
            .to_owned();
        let hints = said.map(str::to_owned).collect();
        return Output::new(true).finish(&Err(DeskError {
            kind: ErrorKind::Usage,
            message,
            hints,
        }));
    }
    for line in text.lines() {
        Output::aside(line);
    }
    ExitCode::from(2)
}
