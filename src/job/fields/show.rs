//! A field's value as a person reads it, in a form that can be typed back.

use serde_json::Value;

use super::field::Field;
use super::key_type::{FieldValue, TaskRead};
use super::kind::FieldKind;
use super::number::{plain, signed};
use super::tasks;
use crate::job::Job;

/// Returns the value of a field as a person reads it; empty when it is absent.
pub fn show(job: &Job, field: &Field) -> String {
    field
        .read(job)
        .map_or_else(String::new, |value| show_read(field, &value))
}

/// Returns a value read from a job as a person reads it.
pub(crate) fn show_read(field: &Field, value: &FieldValue<'_>) -> String {
    match value {
        FieldValue::Number(n) => number(field.kind, *n),
        FieldValue::Whole(n) => n.to_string(),
        FieldValue::Text(text) => (*text).to_owned(),
        FieldValue::Texts(texts) => words(field, texts),
        FieldValue::Tasks(list) => tasks_shown(field, list),
        FieldValue::Flag(true) => "yes".to_owned(),
        FieldValue::Flag(false) => "no".to_owned(),
        FieldValue::Date(day) => day.to_string(),
        FieldValue::Moment(time) => time.format("%Y-%m-%d %H:%M").to_string(),
    }
}

/// Words of a list; of an empty one, what that means.
fn words(field: &Field, words: &[&str]) -> String {
    match (words, field.path) {
        // Asked and none is known is an answer; the word tells it from not having asked.
        ([], "allergies") => "none known".to_owned(),
        ([], _) => "none".to_owned(),
        _ => words.join(", "),
    }
}

fn tasks_shown(field: &Field, list: &[TaskRead<'_>]) -> String {
    let list: Vec<String> = list.iter().map(tasks::shown).collect();
    let list: Vec<&str> = list.iter().map(String::as_str).collect();
    words(field, &list)
}

/// Returns a value of a field as a person reads it; empty when it is absent.
///
/// Powers have their sign and two decimals, three where an eighth needs them.
pub fn show_value(field: &Field, value: Option<&Value>) -> String {
    match value {
        None | Some(Value::Null | Value::Object(_)) => String::new(),
        Some(Value::Bool(true)) => "yes".to_owned(),
        Some(Value::Bool(false)) => "no".to_owned(),
        Some(Value::Array(items)) if field.kind == FieldKind::Tasks => {
            let items: Vec<TaskRead<'_>> = items.iter().map(tasks::of_json).collect();
            tasks_shown(field, &items)
        }
        Some(Value::Array(items)) => {
            let items: Vec<&str> = items.iter().filter_map(Value::as_str).collect();
            words(field, &items)
        }
        Some(Value::String(text)) if field.kind == FieldKind::Moment => text.replace('T', " "),
        Some(Value::String(text)) => text.clone(),
        Some(Value::Number(n)) => n
            .as_f64()
            .map_or_else(String::new, |n| number(field.kind, n)),
    }
}

#[allow(
    clippy::cast_possible_truncation,
    reason = "quantities of a job are within two thousand of their unit; a cast saturates besides"
)]
fn number(kind: FieldKind, value: f64) -> String {
    let thousandths = (value * 1000.0).round() as i32;
    match kind {
        FieldKind::Power | FieldKind::Reading => signed(thousandths),
        FieldKind::Addition => plain(thousandths, 2),
        FieldKind::Prism(axis) => {
            let (plus, minus) = axis.words();
            let size = plain(thousandths.saturating_abs(), 2);
            match thousandths {
                0 => size,
                1.. => format!("{size} {plus}"),
                _ => format!("{size} {minus}"),
            }
        }
        _ => plain(thousandths, 0),
    }
}
