//! A tray's code in the place of a number: a scanner types it where the number belongs.

use super::Place;
use super::args::Command;
use crate::desk::{DeskError, ErrorKind};
use crate::tray_code::decode;

/// Puts the number of the job in the place of each tray code.
///
/// A job whose own number looks like a code is still meant by it: the book is asked first. Erasing
/// takes no code, since what is erased there has to be named twice by whoever erases it.
pub(super) fn resolve(place: &Place, command: &mut Command) -> Result<(), DeskError> {
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
    // Whoever has proved who they are is not asked again.
    place.keep(desk);
    Ok(())
}

/// The numbers of jobs that a command names.
fn numbers(command: &mut Command) -> Vec<&mut String> {
    match command {
        Command::Export(e) => e.numbers.iter_mut().collect(),
        Command::Check { number, .. } => number.iter_mut().collect(),
        Command::Record(r) => vec![&mut r.number],
        Command::Accept(a) => vec![&mut a.number],
        Command::Show { number, .. }
        | Command::Advance { number, .. }
        | Command::SendBack { number, .. }
        | Command::Recheck { number, .. }
        | Command::Cancel { number, .. } => vec![number],
        _ => Vec::new(),
    }
}
