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
        Value::String(text) => {
            let day = text.split('T').next()?.parse::<NaiveDate>().ok();
            day.filter(|day| !YEARS.contains(&day.year()))
                .map(|_| (String::new(), text.as_str()))
        }
        Value::Array(list) => (list.iter().enumerate()).find_map(|(i, v)| inside(i.to_string(), v)),
        Value::Object(map) => map.iter().find_map(|(key, v)| inside(key.clone(), v)),
        _ => None,
    }
}

/// What is wrong with such a day.
pub(super) fn why(text: &str) -> String {
    format!(
        "{text:?} is no day of a job: years run from {} to {}",
        YEARS.start(),
        YEARS.end()
    )
}
