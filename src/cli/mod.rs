//! The command line: the same desk as the screens, for scripts, scanners and screen readers.
//!
//! Exit status: 0 done; 1 failed; 2 wrong usage; 3 held by the gate, nothing changed.

mod access;
mod args;
mod ask;
mod backup;
mod begin;
mod book_place;
mod calendar;
mod confirm;
mod contact;
mod demo;
mod doctor;
mod encryption;
mod erase;
mod export;
mod figures;
mod import;
mod input_file;
mod job_report;
mod list;
pub(crate) mod manual;
mod moves;
mod new_file;
mod output;
mod practice;
mod print;
mod record;
mod repair;
mod retention;
mod show;
mod staff;
mod stream;
mod tray;
mod value_words;
mod version;
mod visit;

use std::process::ExitCode;

use clap::Parser;

use crate::book::clock::Clock;
use crate::book::desk::{
    DeskError, ErrorKind, is_encrypted, keep_agreed_programs_in, keep_head_keys_in,
};
use args::{Arguments, Command};
use book_place::{BookPlace, named_by_environment};
use output::{Outcome, Output, fail};

/// Runs the program with the arguments it was started with.
pub fn run() -> ExitCode {
    // Most starts have no arguments; parsing is skipped for speed.
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
    if let Some(directory) = book_place::state_directory() {
        keep_agreed_programs_in(directory.join("programs"));
        keep_head_keys_in(directory);
    }
    let place = BookPlace {
        db: arguments.db.or_else(named_by_environment),
        clock,
        pin_file: arguments.pin_file,
        opened: std::cell::Cell::default(),
    };
    let Some(mut command) = arguments.command else {
        return open_screens(output, &place);
    };
    if let Command::Demo(demo) = &command {
        return demo::demo(output, demo, clock);
    }
    let result =
        tray::resolve(&place, &mut command).and_then(|()| dispatch(command, &place, &mut output));
    output.finish(&result)
}

fn open_screens(output: Output, place: &BookPlace) -> ExitCode {
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
        Ok((file, unlocked)) => crate::tui::term::run(&file, place.clock, unlocked),
        Err(error) => output.finish(&Err(error)),
    }
}

fn dispatch(command: Command, place: &BookPlace, out: &mut Output) -> Result<Outcome, DeskError> {
    match command {
        Command::Demo(_) => Ok(Outcome::Done),
        Command::Import(i) => import::import(place, out, &i),
        Command::Record(r) => record::record(place, out, &r),
        Command::Staff { what } => staff::staff(place, out, what),
        Command::Export(e) => export::export(place, out, &e),
        Command::Calendar(c) => calendar::calendar(place, out, &c),
        Command::List(l) => list::list(place, out, &l),
        Command::Find(f) => list::find(place, out, f),
        Command::Figures(f) => figures::figures(place, out, &f),
        Command::Show { number, aloud, by } => {
            show::show(place, out, &number, aloud, by.as_deref())
        }
        Command::Check { number, to, all: _ } => show::check(place, out, number.as_deref(), to),
        Command::Checks { markdown } => {
            show::checks(place, out, markdown)?;
            Ok(Outcome::Done)
        }
        Command::Advance { number, to, by } => moves::advance(place, out, &number, to, &by),
        Command::Accept(a) => moves::accept(place, out, &a),
        Command::SendBack { number, by, reason } => {
            moves::send_back(place, out, &number, &by, &reason)
        }
        Command::Ask(a) => ask::ask(place, out, &a),
        Command::Answer(a) => ask::answer(place, out, &a),
        Command::Confirm(c) => confirm::confirm(place, out, &c),
        Command::Begin(b) => begin::begin(place, out, &b),
        Command::Repair(r) => repair::repair(place, out, &r),
        Command::Contact(c) => contact::contact(place, out, &c),
        Command::Recheck { number, by } => moves::recheck(place, out, &number, &by),
        Command::Visit { number } => visit::show(place, out, &number),
        Command::Remake { number, by } => visit::remake(place, out, &number, &by),
        Command::Cancel { number, by, reason } => moves::cancel(place, out, &number, &by, &reason),
        Command::Encrypt { by } => encryption::encrypt(place, out, &by),
        Command::RecoveryCode { by } => encryption::recovery_code(place, out, &by),
        Command::Backup(b) => backup::backup(place, out, &b),
        Command::Restore { file, by } => backup::restore(place, out, &file, &by),
        Command::Doctor {
            repair,
            by,
            head,
            against,
            salvage,
        } => {
            if let Some(into) = salvage {
                doctor::salvage(place, out, &into)
            } else if head {
                doctor::head(place, out)
            } else {
                doctor::doctor(place, out, repair, by.as_deref(), against.as_deref())
            }
        }
        Command::Retention(r) => retention::retention(place, out, &r),
        Command::Erase(e) => erase::erase(place, out, &e),
        Command::Access(a) => access::access(place, out, &a),
        Command::Print(p) => print::print(place, out, &p),
        Command::Practice { what } => practice::practice(place, out, what),
        Command::Calc => stream::calc(),
        Command::Rx => stream::rx(),
        Command::Man { command } => manual::man(out, &command),
        Command::Completions { shell } => Ok(manual::complete(out, shell)),
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
