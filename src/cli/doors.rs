//! Where the command line hands over to other parts of the program.

use std::path::Path;
use std::process::ExitCode;

use super::output::fail;
use crate::clock::Clock;
use crate::desk::{Desk, DeskError, ErrorKind};

/// Opens the screens on a book.
pub(crate) fn screens(file: &Path, clock: Clock) -> ExitCode {
    crate::term::run(file, clock)
}

/// Fills an empty book with the invented practice and returns how many jobs it got.
pub(crate) fn demo(_desk: &mut Desk, _jobs: Option<usize>, _seed: u64) -> Result<usize, DeskError> {
    // JOIN: crate::demo::build(desk)
    Err(fail(
        ErrorKind::Refused,
        "the invented practice is not part of this build",
        &[],
    ))
}

/// Returns the JSON answer to one written prescription.
pub(crate) fn prescription(_line: &str) -> String {
    // JOIN: crate::notation::answer(line)
    r#"{"ok":false,"error":{"kind":"unavailable","message":"reading prescriptions is not part of this build"}}"#.to_owned()
}
