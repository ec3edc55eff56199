//! A new book from all that can be read of a damaged one.

use std::path::Path;

use super::super::error::{DeskError, ErrorKind};
use crate::book::store::key::is_encrypted;
use crate::book::store::{self, Salvaged, key_opened_by};

/// Writes all that can be read of a book into a new, plain one.
///
/// Nobody needs to be signed in: whoever can read the new file could read the old one.
///
/// # Errors
/// [`DeskError`] when there is a file already, or nothing can be read at all.
pub(crate) fn salvage(
    book: &Path,
    secret: Option<&str>,
    into: &Path,
) -> Result<Salvaged, DeskError> {
    if !book.exists() {
        return Err(store::StoreError::Missing(book.display().to_string()).into());
    }
    let key = match secret.filter(|_| is_encrypted(book)) {
        Some(secret) => Some(key_opened_by(book, secret)?),
        None => None,
    };
    let done = store::salvage(book, key.as_ref(), into);
    done.map_err(|e| match e {
        e @ store::StoreError::Exists(_) => e.into(),
        e => {
            // What was begun would be taken for a book.
            for file in super::files_and_drive::files(into) {
                std::fs::remove_file(file).unwrap_or_default();
            }
            DeskError::new(ErrorKind::File, format!("nothing could be salvaged: {e}"))
        }
    })
}
