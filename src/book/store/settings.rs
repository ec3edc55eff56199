//! The staff list, the practice's choices and the book's other settings.
//!
//! Read through a plain connection or inside a write: a move must be judged by what holds at the
//! moment of the write, not by what held a moment before.

use rusqlite::{Connection, OptionalExtension};
use serde::de::DeserializeOwned;

use super::error::StoreError;
use crate::job::{StaffMember, StaffRoll};
use crate::practice::Practice;

/// The settings that history does not bind: the program keeps them for itself, without an event.
pub(super) const UNBOUND: [&str; 3] = [LAST_BACKUP, SWEEP_DUE, ERASED_NUMBERS];
/// The setting that holds the last backup.
pub(super) const LAST_BACKUP: &str = "last_backup";
/// The setting that is present from an erasure until the file is rewritten.
pub(super) const SWEEP_DUE: &str = "sweep_due";
/// The setting that keeps the numbers of erased jobs, so that none is given again.
pub(super) const ERASED_NUMBERS: &str = "erased_numbers";

/// Returns the staff list.
pub(crate) fn staff(c: &Connection) -> Result<StaffRoll, StoreError> {
    let mut statement = c.prepare_cached("SELECT content FROM staff ORDER BY rowid")?;
    let texts = statement.query_map([], |r| r.get::<_, String>(0))?;
    let list: Result<Vec<StaffMember>, StoreError> = texts
        .map(|t| serde_json::from_str(&t?).map_err(|_| StoreError::Content("the staff list")))
        .collect();
    Ok(StaffRoll(list?))
}

/// Returns the practice's settings.
pub(crate) fn practice(c: &Connection) -> Result<Practice, StoreError> {
    setting(c, "practice").map(Option::unwrap_or_default)
}

/// Returns the setting of a name, read from its JSON; `None` where it is not set.
pub(crate) fn setting<T: DeserializeOwned>(
    c: &Connection,
    name: &str,
) -> Result<Option<T>, StoreError> {
    let text: Option<String> = c
        .prepare_cached("SELECT content FROM setting WHERE name = ?1")?
        .query_row([name], |r| r.get(0))
        .optional()?;
    text.map(|t| serde_json::from_str(&t).map_err(|_| StoreError::Content("a setting")))
        .transpose()
}
