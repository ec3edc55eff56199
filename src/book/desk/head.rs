//! The newest entry of history as a code, and where the keys lie that sign it.

use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use super::error::DeskError;
use super::open::Desk;

/// Where the keys lie that sign the newest entries of plain books.
static KEYS: OnceLock<PathBuf> = OnceLock::new();

/// Says where the keys lie; without it, no backup is given a signed head.
pub(crate) fn keep_head_keys_in(directory: PathBuf) {
    // A second call changes nothing: the program says it once, as it starts.
    KEYS.set(directory).unwrap_or_default();
}

pub(super) fn keys() -> Option<&'static Path> {
    KEYS.get().map(PathBuf::as_path)
}

impl Desk {
    /// Returns the newest entry of history as a code to write down.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub fn head_code(&self) -> Result<String, DeskError> {
        Ok(self.store.head_code()?)
    }
}
