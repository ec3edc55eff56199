//! Reading and writing job files: strict about keys, exact about places.

use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::error::Category;
use serde_json::{Map, Value};

use super::{Job, days, strict};
use crate::job::fields::at;

/// The value of `format` in every job file.
pub(crate) const FORMAT: &str = "rimbook-job";
/// The version of the format that is written.
pub(crate) const VERSION: u64 = 1;

/// A job file that cannot be read, with the place.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{place}: {problem}")]
pub struct JobFileError {
    /// Path of keys inside the file (`lenses.powers.right.sphere_d`), or the file.
    pub place: String,
    /// What is wrong there and what would be right.
    pub problem: String,
}

pub(super) fn wrong(place: impl Into<String>, problem: impl Into<String>) -> JobFileError {
    JobFileError {
        place: place.into(),
        problem: problem.into(),
    }
}

/// Removes keys whose value is null and objects that hold nothing, at any depth.
pub(crate) fn without_nulls(value: Value) -> Value {
    match value {
        Value::Object(map) => Value::Object(
            map.into_iter()
                .map(|(k, v)| (k, without_nulls(v)))
                .filter(|(_, v)| !v.is_null() && v.as_object().is_none_or(|o| !o.is_empty()))
                .collect(),
        ),
        Value::Array(list) => Value::Array(list.into_iter().map(without_nulls).collect()),
        other => other,
    }
}

/// The keys whose value is a list.
const LISTS: [&str; 9] = [
    "tasks",
    "allergies",
    "coatings",
    "tried",
    "complaints",
    "advice",
    "adjusted_after_heights",
    "repairs",
    "contacts",
];

/// Whether the value of a key is a list; of an eye's key, only among the further readings.
fn is_list(key: &str, path: &str) -> bool {
    LISTS.contains(&key)
        || (matches!(key, "right" | "left") && (path == "repeats" || path.ends_with(".repeats")))
}

/// Finds a list where an object belongs: the deserialiser would take its items for the object's
/// values in the order of the model, and a length would become another one unseen.
fn list_out_of_place(value: &Value, path: &str, may_be: bool) -> Option<String> {
    let inner = |key: &str| {
        if path.is_empty() {
            key.to_owned()
        } else {
            format!("{path}.{key}")
        }
    };
    match value {
        Value::Array(_) if !may_be => Some(path.to_owned()),
        Value::Array(list) => list
            .iter()
            .enumerate()
            .find_map(|(i, v)| list_out_of_place(v, &format!("{path}[{i}]"), false)),
        Value::Object(map) => map
            .iter()
            .find_map(|(k, v)| list_out_of_place(v, &inner(k), is_list(k, path))),
        _ => None,
    }
}

fn placed(root: &str, path: &str) -> String {
    match (root.is_empty(), path) {
        (true, ".") => "the job".to_owned(),
        (true, _) => path.to_owned(),
        (false, ".") => root.to_owned(),
        (false, _) => format!("{root}.{path}"),
    }
}

/// Refuses a change that takes away what there is none of: a key that is spelt wrongly.
pub(crate) fn read_removed<T: DeserializeOwned>(
    change: &Value,
    root: &str,
) -> Result<(), JobFileError> {
    match strict::unknown_null::<T>(change) {
        Some((path, problem)) => Err(wrong(placed(root, &path), problem)),
        None => Ok(()),
    }
}

/// Reads one value, naming the place inside it that is wrong.
pub(crate) fn read_value<T: DeserializeOwned>(
    value: &Value,
    root: &str,
) -> Result<T, JobFileError> {
    let fault = strict::fault::<T>(value);
    if let Some((path, problem)) = fault {
        return Err(wrong(placed(root, &path), problem));
    }
    let read = serde_json::from_value(without_nulls(value.clone()))
        .map_err(|e| wrong(placed(root, "."), strict::in_words(&e.to_string())))?;
    match list_out_of_place(value, root, false) {
        Some(place) => Err(wrong(place, "is a list; an object belongs there")),
        None => Ok(read),
    }
}

/// Writes one value as the job file has it, without what is absent.
///
/// # Errors
/// Where it cannot be written. The error names the place and holds nothing that was recorded.
pub(crate) fn write_value<T: Serialize>(value: &T, root: &str) -> Result<Value, JobFileError> {
    serde_json::to_value(value)
        .map(without_nulls)
        .map_err(|e| wrong(root, format!("cannot be written: {e}")))
}

/// Reads JSON text in which no object names a key twice, without a byte order mark.
///
/// # Errors
/// Where the text is no such JSON, and why.
pub fn read_json(text: &str) -> Result<Value, JobFileError> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let strict::Unique(value) = serde_json::from_str(text).map_err(|e| {
        let problem = match e.classify() {
            // The words say the place once more, after the sentence.
            Category::Data => {
                let said = e.to_string();
                let sentence = said.rsplit_once(" at line ").map(|(s, _)| s.to_owned());
                sentence.unwrap_or(said)
            }
            _ => format!("this is no JSON ({e})"),
        };
        wrong(format!("line {} column {}", e.line(), e.column()), problem)
    })?;
    Ok(value)
}

/// Reads a job file: one job object, or an array of them.
///
/// # Errors
/// [`JobFileError`] with the place of the first thing that is wrong; nothing is half read.
pub fn read_jobs(text: &str) -> Result<Vec<Job>, JobFileError> {
    match read_json(text)? {
        Value::Array(list) if list.is_empty() => Err(wrong("the file", "holds no job")),
        Value::Array(list) => list
            .into_iter()
            .enumerate()
            .map(|(i, v)| {
                read_job(v).map_err(|e| wrong(format!("job {}: {}", i + 1, e.place), e.problem))
            })
            .collect(),
        other => Ok(vec![read_job(other)?]),
    }
}

fn read_job(value: Value) -> Result<Job, JobFileError> {
    let Value::Object(mut map) = value else {
        return Err(wrong(
            "the job",
            "must be a JSON object, or the file an array of them",
        ));
    };
    take_header(&mut map)?;
    // What a job went through is the other book's history; it is written on export, not read.
    map.remove("accepted");
    map.remove("history");
    map.remove("questions");
    let map = Value::Object(map);
    if let Some((place, day)) = days::out_of_reach(&map) {
        return Err(wrong(place, days::why(day)));
    }
    let job: Job = read_value(&map, "")?;
    if job
        .wearer
        .name
        .as_deref()
        .is_none_or(|n| n.trim().is_empty())
    {
        return Err(wrong(
            "wearer.name",
            "is missing: a job belongs to a named wearer",
        ));
    }
    let tint = job.lenses.tint.as_ref();
    for (place, category) in [
        (at!(lenses.tint.category), tint.and_then(|t| t.category)),
        (
            at!(lenses.tint.dark_category),
            tint.and_then(|t| t.dark_category),
        ),
    ] {
        if let Some(category) = category.filter(|c| *c > 4) {
            return Err(wrong(
                place,
                format!("{category} is no filter category: they run from 0 to 4"),
            ));
        }
    }
    Ok(job)
}

fn take_header(map: &mut Map<String, Value>) -> Result<(), JobFileError> {
    match map.remove("format") {
        Some(Value::String(f)) if f == FORMAT => {}
        Some(other) => {
            return Err(wrong(
                "format",
                format!("is {other}; it must be \"{FORMAT}\""),
            ));
        }
        None => {
            return Err(wrong(
                "format",
                format!("is missing; it must be \"{FORMAT}\""),
            ));
        }
    }
    match map.remove("version") {
        Some(v) if v.as_u64() == Some(VERSION) => Ok(()),
        Some(v) => Err(wrong(
            "version",
            format!("is {v}; this program reads version {VERSION}"),
        )),
        None => Err(wrong(
            "version",
            format!("is missing; it must be {VERSION}"),
        )),
    }
}

impl Job {
    /// Returns the job as a job file, without what is absent.
    ///
    /// # Errors
    /// [`JobFileError`] when the job cannot be written as JSON.
    pub fn to_file(&self) -> Result<Map<String, Value>, JobFileError> {
        let mut out = Map::new();
        out.insert("format".to_owned(), FORMAT.into());
        out.insert("version".to_owned(), VERSION.into());
        if let Value::Object(body) = write_value(self, "the job")? {
            out.extend(body);
        }
        Ok(out)
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;

    #[test]
    fn what_cannot_be_written_is_refused_and_not_taken_for_absent() {
        // An object of JSON has texts for keys.
        let unwritable = BTreeMap::from([((1, 2), "Ada")]);
        let refused = write_value(&unwritable, "fitting").map_err(|e| (e.place, e.problem));
        assert_eq!(
            refused,
            Err((
                "fitting".to_owned(),
                "cannot be written: key must be a string".to_owned()
            ))
        );
    }
}
