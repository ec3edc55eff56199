//! Files that a command reads whole.

use std::io::Read;
use std::path::Path;

use super::output::fail;
use crate::book::desk::{DeskError, ErrorKind};

/// Reads a whole file, or standard input for `-`.
pub(super) fn read_text(file: &Path) -> Result<String, DeskError> {
    let read = if file.as_os_str() == "-" {
        let mut bytes = Vec::new();
        std::io::stdin()
            .lock()
            .read_to_end(&mut bytes)
            .map(|_| bytes)
    } else {
        std::fs::read(file)
    };
    let bytes = read.map_err(|e| {
        fail(
            ErrorKind::File,
            format!("{} could not be read: {e}", file.display()),
            &[],
        )
    })?;
    String::from_utf8(bytes).map_err(|e| {
        let before = e.as_bytes().get(..e.utf8_error().valid_up_to());
        let line = before.map_or(1, |b| b.split(|b| *b == b'\n').count());
        fail(
            ErrorKind::File,
            format!(
                "{}: line {line}: is not UTF-8, so letters cannot be told",
                file.display(),
            ),
            &["save the file as UTF-8 and import it again"],
        )
    })
}
