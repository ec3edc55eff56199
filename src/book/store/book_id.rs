//! The id that tells one book from all others, and keeps its backups apart.

use std::fmt::Write as _;

use rusqlite::Connection;

use super::error::StoreError;
use super::settings;

/// The setting that tells this book from all others.
pub(super) const BOOK_ID: &str = "book_id";

/// Returns bytes in hexadecimal digits.
pub(super) fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut text, byte| {
        // Writing to a string does not fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}

/// Gives a book its id unless it has one.
pub(super) fn identify(c: &Connection) -> Result<String, StoreError> {
    if let Some(id) = settings::setting(c, BOOK_ID)? {
        return Ok(id);
    }
    let mut bytes = [0; 16];
    getrandom::fill(&mut bytes).map_err(|_| StoreError::NoRandom)?;
    let id = hex(&bytes);
    c.execute(
        "INSERT INTO setting (name, content) VALUES (?1, ?2)",
        (BOOK_ID, format!("\"{id}\"")),
    )?;
    Ok(id)
}
