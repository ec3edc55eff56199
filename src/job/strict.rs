//! What is no job file although it could be read as one: a key that is not known, an empty object
//! where a value belongs, a key that is written twice.
//!
//! An absent value may be written as null, and an object that holds nothing says nothing. Neither
//! may hide a slip of the hand: a key that is spelt wrongly is refused whatever is behind it.

use std::fmt;

use serde::de::{self, Deserialize, DeserializeOwned, Deserializer, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Value};

use crate::job::current_word;

/// A place and what is wrong there.
pub(super) type Wrong = (String, String);

/// A JSON value in which no object names a key twice: of two values one would be lost unseen.
pub(super) struct Unique(pub(super) Value);

impl<'de> Deserialize<'de> for Unique {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        d.deserialize_any(UniqueVisitor).map(Self)
    }
}

struct UniqueVisitor;

impl<'de> Visitor<'de> for UniqueVisitor {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a JSON value")
    }

    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_bool<E>(self, v: bool) -> Result<Value, E> {
        Ok(v.into())
    }

    fn visit_i64<E>(self, v: i64) -> Result<Value, E> {
        Ok(v.into())
    }

    fn visit_u64<E>(self, v: u64) -> Result<Value, E> {
        Ok(v.into())
    }

    fn visit_f64<E>(self, v: f64) -> Result<Value, E> {
        Ok(v.into())
    }

    fn visit_str<E>(self, v: &str) -> Result<Value, E> {
        Ok(v.into())
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Value, A::Error> {
        let mut list = Vec::new();
        while let Some(Unique(item)) = items.next_element()? {
            list.push(item);
        }
        Ok(Value::Array(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<Value, A::Error> {
        let mut map = Map::new();
        while let Some(key) = entries.next_key::<String>()? {
            if map.contains_key(&key) {
                return Err(de::Error::custom(format_args!(
                    "the key \"{key}\" is written twice in one object"
                )));
            }
            let Unique(value) = entries.next_value()?;
            map.insert(key, value);
        }
        Ok(Value::Object(map))
    }
}

/// Removes keys whose value is null, and leaves objects that hold nothing.
fn without_null_keys(value: &Value) -> Value {
    match value {
        Value::Object(map) => Value::Object(
            map.iter()
                .filter(|(_, v)| !v.is_null())
                .map(|(k, v)| (k.clone(), without_null_keys(v)))
                .collect(),
        ),
        Value::Array(list) => Value::Array(list.iter().map(without_null_keys).collect()),
        other => other.clone(),
    }
}

/// Returns, for each null inside a value, the value with that null alone.
fn nulls(value: &Value) -> Vec<Value> {
    match value {
        Value::Null => vec![Value::Null],
        Value::Object(map) => map
            .iter()
            .flat_map(|(k, v)| {
                nulls(v)
                    .into_iter()
                    .map(|n| Value::Object(Map::from_iter([(k.clone(), n)])))
            })
            .collect(),
        Value::Array(list) => list
            .iter()
            .flat_map(nulls)
            .map(|n| Value::Array(vec![n]))
            .collect(),
        _ => Vec::new(),
    }
}

/// The beginning of the deserialiser's words about a key that there is none of.
const UNKNOWN: &str = "unknown field ";

fn try_read<T: DeserializeOwned>(value: &Value) -> Result<T, (String, String)> {
    serde_path_to_error::deserialize(value)
        .map_err(|e| (e.path().to_string(), e.into_inner().to_string()))
}

/// Returns what is wrong with a value that is to be read as a `T`: a key that there is none of,
/// or something that is no `T` at its place.
pub(super) fn fault<T: DeserializeOwned>(value: &Value) -> Option<Wrong> {
    if let Err((place, said)) = try_read::<T>(&without_null_keys(value)) {
        return Some((place, in_words(&said)));
    }
    unknown_null::<T>(value)
}

/// Returns a key that has null as its value and is not one of the known keys.
pub(super) fn unknown_null<T: DeserializeOwned>(value: &Value) -> Option<Wrong> {
    nulls(value).iter().find_map(|null| {
        let (place, said) = try_read::<T>(null).err()?;
        said.starts_with(UNKNOWN).then(|| (place, in_words(&said)))
    })
}

/// What the reader of days says of a text that is none, whatever is wrong with it.
const NO_DAY: [&str; 7] = [
    "input is out of range",
    "no possible date and time matching input",
    "input is not enough for unique date and time",
    "input contains invalid characters",
    "premature end of input",
    "trailing input",
    "bad or unsupported format string",
];

/// Says in plain words what the deserialiser says in a programmer's, and without repeating a text
/// of the file: it may be a person's.
pub(super) fn in_words(said: &str) -> String {
    if NO_DAY.contains(&said) {
        return "is no day: write it as 2026-12-03".to_owned();
    }
    if let Some(rest) = said.strip_prefix("unknown variant `") {
        // From the end: the text before it is the file's, whatever it holds.
        let words = rest.rsplit_once("`, expected ").map_or("", |(_, w)| w);
        let words = words.strip_prefix("one of ").unwrap_or(words);
        // Of words that are only read for files of earlier versions none is offered.
        let offered: Vec<&str> = words
            .split(", ")
            .filter(|word| {
                let word = word.trim_matches('`');
                current_word(word) == word
            })
            .collect();
        let offered = offered.join(", ");
        return format!("is none of the words that belong there: {offered}");
    }
    if let Some(rest) = said.strip_prefix(UNKNOWN) {
        return format!("{UNKNOWN}{rest}");
    }
    let rest = said
        .strip_prefix("invalid type: ")
        .or_else(|| said.strip_prefix("invalid value: "));
    match rest.and_then(|r| r.rsplit_once(", expected ")) {
        Some((got, expected)) => format!("is {}; {} belongs there", found(got), wanted(expected)),
        None => said.to_owned(),
    }
}

fn found(got: &str) -> &str {
    let kind = got.split([' ', '`']).next().unwrap_or(got);
    match kind {
        "map" => "an object",
        "sequence" => "a list",
        "string" => "a text",
        "integer" | "floating" => "a number",
        "boolean" => "true or false",
        "null" | "unit" => "null",
        _ => "something else",
    }
}

fn wanted(expected: &str) -> &str {
    match expected {
        "f64" | "f32" => "a number",
        "u8" | "u16" | "u32" | "u64" | "usize" => "a whole number that is not negative",
        "i8" | "i16" | "i32" | "i64" | "isize" => "a whole number",
        "a boolean" => "true or false",
        "a string" => "a text",
        "a sequence" => "a list",
        "a formatted date string" => "a day as 2026-12-03",
        e if e.starts_with("struct ") || e == "a map" => "an object",
        e if e.starts_with("enum ") || e == "string or map" => "a word of the list",
        e => e,
    }
}
