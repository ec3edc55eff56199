//! A field's value as a person reads it, in a form that can be typed back.

use serde_json::Value;

use super::field::Field;
use super::kind::Kind;
use super::number::{plain, signed};
use crate::job::Job;

/// Returns the value of a field as a person reads it; empty when it is absent.
pub fn show(job: &Job, field: &Field) -> String {
    show_value(field, field.value(job).as_ref())
}

/// Returns a value of a field as a person reads it; empty when it is absent.
///
/// Powers have their sign and two decimals, three where an eighth needs them.
pub fn show_value(field: &Field, value: Option<&Value>) -> String {
    match value {
        None | Some(Value::Null | Value::Object(_)) => String::new(),
        Some(Value::Bool(true)) => "yes".to_owned(),
        Some(Value::Bool(false)) => "no".to_owned(),
        Some(Value::Array(items)) if items.is_empty() => {
            // Asked and none is known is an answer; the word tells it from not having asked.
            if field.path == "allergies" {
                "none known"
            } else {
                "none"
            }
            .to_owned()
        }
        Some(Value::Array(items)) => {
            let words: Vec<&str> = items.iter().filter_map(Value::as_str).collect();
            words.join(", ")
        }
        Some(Value::String(text)) if field.kind == Kind::Moment => text.replace('T', " "),
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
fn number(kind: Kind, value: f64) -> String {
    let thousandths = (value * 1000.0).round() as i32;
    match kind {
        Kind::Power | Kind::Reading => signed(thousandths),
        Kind::Addition => plain(thousandths, 2),
        Kind::Prism(axis) => {
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
