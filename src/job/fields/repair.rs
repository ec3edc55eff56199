//! The values that a repair may change, typed like those of the handover.

use chrono::NaiveDate;
use serde_json::Value;

use super::field::Field;
use super::parse::{EntryError, parse};
use super::row::change;
use super::rules::repair_fields;
use crate::job::Repair;

/// Returns what a value of a repair is called, eye first.
pub(crate) fn repair_label(field: &Field) -> String {
    match field.eye {
        Some(eye) => format!("{eye} {}", field.label),
        None => field.label.to_owned(),
    }
}

/// Sets one value of a repair from what was typed; an empty text takes it back.
///
/// # Errors
/// [`EntryError`] with one sentence that says what to type.
pub fn set_repair_value(
    repair: &Repair,
    path: &str,
    text: &str,
    today: NaiveDate,
) -> Result<Repair, EntryError> {
    let Some(field) = repair_fields().find(|field| field.path == path) else {
        let known: Vec<&str> = repair_fields().map(|field| field.path).collect();
        return Err(EntryError(format!(
            "{path} is no value of a repair: name one of {}",
            known.join(", ")
        )));
    };
    let value = parse(field, text, today)?;
    let unkept = |why: String| EntryError(format!("this cannot be kept: {why}"));
    let mut written = serde_json::to_value(repair).map_err(|e| unkept(e.to_string()))?;
    json_patch::merge(&mut written, &change(field, value));
    let written: Value = crate::job::without_nulls(written);
    serde_json::from_value(written).map_err(|e| unkept(e.to_string()))
}
