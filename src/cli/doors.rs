//! Where the command line hands over to other parts of the program.

use std::path::Path;
use std::process::ExitCode;

use super::output::{Output, fail};
use crate::clock::Clock;
use crate::desk::ErrorKind;

/// Opens the screens on a book.
pub(crate) fn screens(output: Output, _file: &Path, _clock: Clock) -> ExitCode {
    // JOIN: crate::term::run(file, clock)
    output.finish(&Err(fail(
        ErrorKind::Refused,
        "the screens are not part of this build",
        &["rimbook --help lists the commands"],
    )))
}
