//! What a pair is for: tasks, each with its distance, as they are typed and shown.

use serde_json::{Map, Value};

use super::field::Field;
use super::key_type::TaskRead;
use super::limits::beyond;
use super::number::{plain, typed};
use crate::trade::units::Millimetre;

/// Reads one task: `reading 400`, `screen 65 cm`, `music`.
///
/// # Errors
/// One sentence that says what to type.
pub(super) fn task(field: &Field, text: &str) -> Result<Value, String> {
    let (what, distance_mm) = split(text.trim());
    if let Some(sentence) = distance_mm.and_then(|mm| beyond(field, mm)) {
        return Err(sentence);
    }
    let mut task = Map::new();
    if !what.is_empty() {
        task.insert("what".to_owned(), what.into());
    }
    if let Some(mm) = distance_mm {
        let mm = Millimetre::new(mm).map_err(|e| e.to_string())?;
        let mm = serde_json::to_value(mm).map_err(|e| e.to_string())?;
        task.insert("distance_mm".to_owned(), mm);
    }
    Ok(Value::Object(task))
}

/// What is done, and the distance behind it in millimetres, where a number is there.
fn split(text: &str) -> (&str, Option<f64>) {
    let units = [("mm", 1.0), ("cm", 10.0)];
    let (body, scale) = units
        .iter()
        .find_map(|(unit, scale)| Some((text.strip_suffix(unit)?.trim_end(), *scale)))
        .unwrap_or((text, 1.0));
    let (what, last) = body.rsplit_once(char::is_whitespace).unwrap_or(("", body));
    match typed(last) {
        Ok(number) if !number.signed => {
            let mm = f64::from(number.thousandths) / 1000.0 * scale;
            (what.trim_end(), Some(mm))
        }
        _ => (text, None),
    }
}

/// Returns a task as a person reads it: `reading 400 mm`.
#[allow(
    clippy::cast_possible_truncation,
    reason = "quantities of a job are within two thousand of their unit; a cast saturates besides"
)]
pub(super) fn shown(task: &TaskRead<'_>) -> String {
    let distance = |mm: f64| format!("{} mm", plain((mm * 1000.0).round() as i32, 0));
    match (task.what, task.distance_mm) {
        (Some(what), Some(mm)) => format!("{what} {}", distance(mm)),
        (Some(what), None) => what.to_owned(),
        (None, mm) => mm.map(distance).unwrap_or_default(),
    }
}

/// Returns a task of a job file.
pub(super) fn of_json(task: &Value) -> TaskRead<'_> {
    TaskRead {
        what: task["what"].as_str(),
        distance_mm: task["distance_mm"].as_f64(),
    }
}
