//! Where the command line hands over to other parts of the program.

use std::path::Path;
use std::process::ExitCode;

use super::output::{Output, fail};
use crate::clock::Clock;
use crate::desk::{Desk, DeskError, ErrorKind};

/// Opens the screens on a book.
pub(crate) fn screens(output: Output, _file: &Path, _clock: Clock) -> ExitCode {
    // JOIN: crate::term::run(file, clock)
    output.finish(Err(fail(
        ErrorKind::Refused,
        "the screens are not part of this build",
        &["rimbook --help lists the commands"],
    )))
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
