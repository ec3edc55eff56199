//! Where the command line hands over to other parts of the program.

use std::path::Path;
use std::process::ExitCode;

use super::output::{Output, fail};
use crate::clock::Clock;
use crate::desk::{Desk, DeskError, ErrorKind};

/// Opens the screens on a book.
pub(crate) fn screens(_output: Output, file: &Path, clock: Clock) -> ExitCode {
    crate::term::run(file, clock)
}

/// Fills an empty book with the invented practice and returns how many jobs it got.
pub(crate) fn demo(desk: &mut Desk, jobs: Option<usize>, _seed: u64) -> Result<usize, DeskError> {
    if jobs.is_some() {
        return Err(fail(
            ErrorKind::Usage,
            "the invented practice is of one size yet",
            &["leave --jobs and --seed out"],
        ));
    }
    Ok(crate::demo::build(desk)?.jobs)
}

/// Returns the JSON answer to one written prescription.
pub(crate) fn prescription(line: &str) -> String {
    crate::notation::answer(line).to_string()
}
