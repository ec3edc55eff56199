//! The job file as a JSON Schema (draft 2020-12): what the reader takes, said in the words of that
//! standard, so that others can check a file before they send it.
//!
//! Made from the rows in which the parts of a job are declared. Published as
//! `docs/job-file.schema.json`; tests hold it against the reader key by key.

use serde_json::{Map, Value, json};

use crate::job::fields::{KeyRow, Shape};
use crate::job::{
    Aftercare, Compensates, Contact, EyeFitting, EyeHandover, EyePower, EyePrescription,
    EyeReading, FORMAT, Fitting, Frame, Handover, Job, LaboratoryPowers, Lenses, NameKept, Order,
    Origin, Pads, Powers, Prescription, Previous, PrismControl, PrismControlRead, Readings, Repair,
    Repeats, SecondReading, Segment, Task, Tint, VERSION, Visit, Wearer,
};
use crate::trade::units::{Degree, Dioptre, Index, Millimetre, Percent, PrismDioptre};

/// Where the schema says it comes from; a name, not an address that is looked up.
pub(crate) const ID: &str = "urn:rimbook:job-file:1";

/// The parts of a job with their keys, in the order of the page on the job file.
pub(crate) const PARTS: [(&str, &[KeyRow]); 32] = [
    ("Wearer", Wearer::KEYS),
    ("Task", Task::KEYS),
    ("Prescription", Prescription::KEYS),
    ("EyePrescription", EyePrescription::KEYS),
    ("Previous", Previous::KEYS),
    ("Fitting", Fitting::KEYS),
    ("EyeFitting", EyeFitting::KEYS),
    ("SecondReading", SecondReading::KEYS),
    ("Frame", Frame::KEYS),
    ("Pads", Pads::KEYS),
    ("Lenses", Lenses::KEYS),
    ("Compensates", Compensates::KEYS),
    ("PrismControl", PrismControl::KEYS),
    ("Segment", Segment::KEYS),
    ("Tint", Tint::KEYS),
    ("Powers", Powers::KEYS),
    ("EyePower", EyePower::KEYS),
    ("LaboratoryPowers", LaboratoryPowers::KEYS),
    ("Order", Order::KEYS),
    ("Readings", Readings::KEYS),
    ("EyeReading", EyeReading::KEYS),
    ("PrismControlRead", PrismControlRead::KEYS),
    ("Repeats", Repeats::KEYS),
    ("Handover", Handover::KEYS),
    ("EyeHandover", EyeHandover::KEYS),
    ("Origin", Origin::KEYS),
    ("Visit", Visit::KEYS),
    ("Aftercare", Aftercare::KEYS),
    ("Repair", Repair::KEYS),
    ("Contact", Contact::KEYS),
    ("NameKept", NameKept::KEYS),
    ("Job", Job::KEYS),
];

fn number(low: f64, high: f64, unit: &str) -> Value {
    json!({"type": ["number", "null"], "minimum": low, "maximum": high, "description": unit})
}

/// A reference to a definition; null counts as absent.
fn of(name: &str) -> Value {
    json!({"anyOf": [{"$ref": format!("#/$defs/{name}")}, {"type": "null"}]})
}

/// The schema of a key's values. Null counts as absent everywhere but in a list.
fn value(shape: Shape) -> Value {
    match shape {
        Shape::Text => json!({"type": ["string", "null"]}),
        Shape::Texts => json!({"type": ["array", "null"], "items": {"type": "string"}}),
        Shape::Flag => json!({"type": ["boolean", "null"]}),
        Shape::Date => {
            json!({"type": ["string", "null"], "format": "date", "pattern": "^(18[5-9][0-9]|19[0-9]{2}|2[01][0-9]{2})-[0-9]{2}-[0-9]{2}$"})
        }
        Shape::Moment => json!({
            "type": ["string", "null"],
            "pattern": "^(18[5-9][0-9]|19[0-9]{2}|2[01][0-9]{2})-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])([T ]([01][0-9]|2[0-3]):[0-5][0-9]|T([01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9])$",
            "description": "local day and time, such as 2026-12-03T15:30",
        }),
        Shape::Power => number(Dioptre::LOW, Dioptre::HIGH, "dioptres"),
        Shape::Length => number(Millimetre::LOW, Millimetre::HIGH, "millimetres"),
        Shape::Angle => number(Degree::LOW, Degree::HIGH, "degrees"),
        Shape::Prism => number(
            PrismDioptre::LOW,
            PrismDioptre::HIGH,
            "prism dioptres; base in and base up are positive",
        ),
        Shape::Index => number(Index::LOW, Index::HIGH, "refractive index"),
        Shape::Percent => number(Percent::LOW, Percent::HIGH, "percent"),
        Shape::Category => json!({"type": ["integer", "null"], "minimum": 0, "maximum": 4}),
        Shape::Word(words) => {
            let mut list: Vec<Value> = words.iter().map(|w| Value::from(*w)).collect();
            list.push(Value::Null);
            json!({ "enum": list })
        }
        Shape::Words(words) => json!({"type": ["array", "null"], "items": {"enum": words}}),
        Shape::Part(name) => of(name),
        Shape::Parts(name) => {
            json!({"type": ["array", "null"], "items": {"$ref": format!("#/$defs/{name}")}})
        }
        Shape::ByPath(name) => json!({
            "anyOf": [
                {"type": "object", "additionalProperties": of(name)},
                {"type": "null"},
            ],
        }),
    }
}

fn object(keys: Vec<(&str, Value)>) -> Value {
    let properties: Map<String, Value> = keys.into_iter().map(|(k, v)| (k.to_owned(), v)).collect();
    json!({"type": "object", "additionalProperties": false, "properties": properties})
}

fn part(name: &str, rows: &'static [KeyRow]) -> Value {
    let keys = rows.iter().map(|row| (row.key, value(row.shape)));
    match name {
        "Job" => job(keys.collect()),
        "Wearer" => {
            let mut wearer = object(keys.collect());
            // A job belongs to a named wearer.
            wearer["properties"]["name"] = json!({"type": "string", "pattern": "\\S"});
            wearer["required"] = json!(["name"]);
            wearer
        }
        _ => object(keys.collect()),
    }
}

fn job(rows: Vec<(&str, Value)>) -> Value {
    let mut keys = vec![
        ("format", json!({"const": FORMAT})),
        ("version", json!({"const": VERSION})),
    ];
    keys.extend(rows);
    keys.extend(
        ["accepted", "history", "questions"]
            .map(|key| (key, json!({"description": "written on export, not read"}))),
    );
    let mut job = object(keys);
    job["properties"]["wearer"] = json!({"$ref": "#/$defs/Wearer"});
    job["required"] = json!(["format", "version", "wearer"]);
    job
}

/// Returns the JSON Schema (draft 2020-12) of a job file.
pub fn schema() -> Value {
    let defs: Map<String, Value> = PARTS
        .into_iter()
        .map(|(name, rows)| (name.to_owned(), part(name, rows)))
        .collect();
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": ID,
        "title": "rimbook job file",
        "description": "One job, or an array of them. Lengths in millimetres, powers in dioptres, prism in prism dioptres, angles in degrees. Both eyes: base in and base up are positive.",
        "oneOf": [
            {"$ref": "#/$defs/Job"},
            {"type": "array", "minItems": 1, "items": {"$ref": "#/$defs/Job"}},
        ],
        "$defs": defs,
    })
}
