//! The code of a tray in place of a job's number, as a scanner types it.

use super::args::Command;
use super::book_place::BookPlace;
use crate::book::desk::{DeskError, ErrorKind};
use crate::job::tray_code::decode;

/// Replaces each tray code by the number of its job.
///
/// A job whose own number looks like a code takes precedence: the book is asked first. Erasing
/// accepts no code, because the person must type the number twice.
pub(super) fn resolve(place: &BookPlace, command: &mut Command) -> Result<(), DeskError> {
    let mut codes: Vec<(&mut String, String)> = numbers(command)
        .into_iter()
        .filter_map(|word| decode(word).map(|number| (word, number)))
        .collect();
    if codes.is_empty() {
        return Ok(());
    }
    let desk = place.open()?;
    for (word, number) in &mut codes {
        match desk.load(word) {
            Err(e) if e.kind == ErrorKind::NotFound => std::mem::swap(*word, number),
            Err(e) => return Err(e),
            Ok(_) => {}
        }
    }
    // The open book is kept, so that nobody is asked for a secret twice.
    place.keep(desk);
    Ok(())
}

/// Returns the job numbers among the arguments of a command. Every command is listed, so that a new one
/// does not compile until it is added here.
fn numbers(command: &mut Command) -> Vec<&mut String> {
    match command {
        Command::Export(e) => e.numbers.iter_mut().collect(),
        Command::Check { number, .. } => number.iter_mut().collect(),
        Command::Record(r) => vec![&mut r.number],
        Command::Accept(a) => vec![&mut a.number],
        Command::Ask(a) => vec![&mut a.number],
        Command::Answer(a) => vec![&mut a.number],
        Command::Confirm(c) => vec![&mut c.number],
        Command::Begin(b) => vec![&mut b.number],
        Command::Repair(r) => vec![&mut r.number],
        Command::Contact(c) => vec![&mut c.number],
        Command::Print(p) => vec![&mut p.number],
        Command::Show { number, .. }
        | Command::Advance { number, .. }
        | Command::SendBack { number, .. }
        | Command::Recheck { number, .. }
        | Command::Visit { number }
        | Command::Remake { number, .. }
        | Command::Cancel { number, .. } => vec![number],
        // Erasing takes job numbers only.
        Command::Erase(_)
        | Command::Demo(_)
        | Command::Import(_)
        | Command::Calendar(_)
        | Command::List(_)
        | Command::Find(_)
        | Command::Figures(_)
        | Command::Encrypt { .. }
        | Command::RecoveryCode { .. }
        | Command::Calc
        | Command::Rx
        | Command::Checks { .. }
        | Command::Backup(_)
        | Command::Restore { .. }
        | Command::Doctor { .. }
        | Command::Retention(_)
        | Command::Access(_)
        | Command::Practice { .. }
        | Command::Staff { .. }
        | Command::Man { .. }
        | Command::Completions { .. } => Vec::new(),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use clap::{CommandFactory, Parser};

    use super::super::args::Arguments;
    use super::numbers;

    /// A line of each command that takes a job's number.
    const LINES: [&str; 18] = [
        "accept N no-such-check --as Somebody --reason why",
        "advance N --to ordered --as Somebody",
        "answer N --text so --as Somebody",
        "ask N --of laboratory --text why --as Somebody",
        "begin N --for reglaze --as Somebody",
        "cancel N --as Somebody --reason why",
        "check N",
        "confirm N --as Somebody",
        "contact N --how letter --as Somebody",
        "export N",
        "print N --what tray",
        "recheck N --as Somebody",
        "record N fitting - --as Somebody",
        "remake N --as Somebody",
        "repair N --kind screw --as Somebody",
        "send-back N --as Somebody --reason why",
        "show N",
        "visit N",
    ];

    #[test]
    fn wherever_a_command_takes_a_number_a_trays_code_does() {
        // From the definition of the command line: every argument named number, except of `erase`.
        let mut named: Vec<String> = Arguments::command()
            .get_subcommands()
            .filter(|c| {
                let of_jobs = ["number", "numbers"];
                c.get_arguments()
                    .any(|a| of_jobs.contains(&a.get_id().as_str()))
            })
            .map(|c| c.get_name().to_owned())
            .filter(|name| name != "erase")
            .collect();
        named.sort_unstable();
        let listed: Vec<&str> = LINES
            .iter()
            .map(|line| line.split(' ').next().unwrap())
            .collect();
        assert_eq!(named, listed);
        for line in LINES {
            let words = std::iter::once("rimbook").chain(line.split(' '));
            let mut command = Arguments::try_parse_from(words).unwrap().command.unwrap();
            assert_eq!(numbers(&mut command), ["N"], "{line}");
        }
    }
}
