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

/// Returns the bytes of hexadecimal digits; `None` for any other text.
pub(super) fn unhex(text: &str) -> Option<Vec<u8>> {
    let digits: Vec<u32> = text
        .chars()
        .map(|c| c.to_digit(16))
        .collect::<Option<_>>()?;
    digits
        .chunks(2)
        .map(|pair| match pair {
            [high, low] => u8::try_from(high * 16 + low).ok(),
            _ => None,
        })
        .collect()
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
