//! Days that no job of today can have: a slip of the hand or of another program.

use chrono::{Datelike, NaiveDate};
use serde_json::Value;

/// The years in which a day of a job lies.
const YEARS: std::ops::RangeInclusive<i32> = 1850..=2199;

/// Returns the first day in a part of a job file that lies outside [`YEARS`]: its path and its text.
pub(super) fn out_of_reach(value: &Value) -> Option<(String, &str)> {
    let inside = |key: String, value| {
        out_of_reach(value).map(|(path, text)| {
            let point = if path.is_empty() { "" } else { "." };
            (format!("{key}{point}{path}"), text)
        })
    };
    match value {
        Value::Array(list) => (list.iter().enumerate()).find_map(|(i, v)| inside(i.to_string(), v)),
        Value::Object(map) => map.iter().find_map(|(key, v)| match v {
            Value::String(text) => is_out_of_reach(key, text).then(|| (key.clone(), text.as_str())),
            other => inside(key.clone(), other),
        }),
        _ => None,
    }
}

/// Whether a key holds a day or a time, and one outside [`YEARS`].
fn is_out_of_reach(key: &str, text: &str) -> bool {
    let is_day =
        matches!(key, "born" | "on" | "at") || key.ends_with("_on") || key.ends_with("_at");
    let day = text.split(['T', ' ']).next().and_then(|d| d.parse().ok());
    is_day && day.is_some_and(|day: NaiveDate| !YEARS.contains(&day.year()))
}

/// What is wrong with such a day.
pub(super) fn why(text: &str) -> String {
    format!(
        "{text:?} is no day of a job: years run from {} to {}",
        YEARS.start(),
        YEARS.end()
    )
}
