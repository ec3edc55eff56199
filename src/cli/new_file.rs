//! Files that a command writes: always new, so that no file is overwritten.

use std::path::Path;

use super::output::fail;
use crate::book::desk::{DeskError, ErrorKind};

/// Makes a file that does not exist yet, readable by its owner only.
pub(super) fn new_file(path: &Path) -> std::io::Result<std::fs::File> {
    let mut options = std::fs::OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options.open(path)
}

pub(super) fn not_written(path: &Path, e: &std::io::Error) -> DeskError {
    match e.kind() {
        std::io::ErrorKind::AlreadyExists => fail(
            ErrorKind::File,
            format!("{} exists already and is not replaced", path.display()),
            &["name a file that does not exist yet"],
        ),
        _ => fail(
            ErrorKind::File,
            format!("{} could not be written: {e}", path.display()),
            &[],
        ),
    }
}
