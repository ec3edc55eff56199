//! What was being typed when the book went away, in a file beside it.

use std::path::{Path, PathBuf};

use super::error::DeskError;
use super::printing::write_new;
use crate::book::clock::Clock;

/// Writes a text into a new file beside the book, for its owner alone; where the directory of the book is
/// gone, into that of temporary files. Returns its path.
///
/// # Errors
/// That of the second place.
pub(crate) fn rescue(book: &Path, clock: Clock, text: &str) -> Result<PathBuf, DeskError> {
    let name = clock.wall().format("rimbook-typed-%Y-%m-%dT%H-%M-%S.txt");
    let name = name.to_string();
    let write = |path: PathBuf| write_new(&path, text.as_bytes()).map(|()| path);
    match book.parent().map(|dir| write(dir.join(&name))) {
        Some(Ok(path)) => Ok(path),
        _ => write(std::env::temp_dir().join(&name)),
    }
}
