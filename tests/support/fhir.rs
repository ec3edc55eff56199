//! What the tests of FHIR share: bundles of jobs, HL7's own schema, and the rules it lets through.
#![allow(dead_code, reason = "each test file uses a part")]

use std::collections::BTreeSet;

use chrono::NaiveDate;
use rimbook::testing::book::demo::{files, resolve};
use rimbook::testing::exchange::fhir::{Bundle, CannotSay};
use rimbook::testing::job::{Job, read_jobs};
use serde_json::{Value, json};

use crate::common;

/// The day of the tests.
pub fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 25).unwrap()
}

/// Jobs as the text of a bundle.
pub fn text_of(jobs: &[(&str, &Job)]) -> Result<String, CannotSay> {
    let mut bundle = Bundle::new(today());
    let mut text = Bundle::head().to_owned();
    for (number, job) in jobs {
        text.push_str(&bundle.job(number, job)?);
    }
    text.push_str(bundle.foot());
    Ok(text)
}

/// Jobs as a bundle.
pub fn bundle_of(jobs: &[(&str, &Job)]) -> Value {
    serde_json::from_str(&text_of(jobs).unwrap()).unwrap()
}

/// The resources of one kind.
pub fn resources<'a>(bundle: &'a Value, kind: &str) -> Vec<&'a Value> {
    let entries = bundle["entry"].as_array().into_iter().flatten();
    entries
        .map(|e| &e["resource"])
        .filter(|r| r["resourceType"] == kind)
        .collect()
}

/// The jobs of the demonstration that have a prescription.
pub fn demo() -> Vec<(String, Job)> {
    files()
        .iter()
        .map(|file| {
            let demo = resolve(file.text, today()).unwrap();
            (
                file.name.to_owned(),
                read_jobs(&demo.job.to_string()).unwrap().remove(0),
            )
        })
        .filter(|(_, job)| {
            job.prescription.right.sphere_d.is_some() || job.prescription.left.sphere_d.is_some()
        })
        .collect()
}

/// A job with a prescription, as the job file has it.
pub fn job(prescription: &Value) -> Job {
    let file = json!({
        "format": "rimbook-job", "version": 1, "wearer": {"name": "Ada Fenwick"},
        "prescription": prescription,
    });
    read_jobs(&file.to_string()).unwrap().remove(0)
}

/// A validator of one definition of the official schema.
pub fn official(definition: &str) -> jsonschema::Validator {
    let mut schema = common::json("fhir/r4-visionprescription.schema.json");
    schema["$ref"] = json!(format!("#/definitions/{definition}"));
    jsonschema::validator_for(&schema).unwrap()
}

/// Says what a validator finds.
pub fn valid(validator: &jsonschema::Validator, what: &str, value: &Value) {
    let problems: Vec<String> = validator
        .iter_errors(value)
        .map(|e| format!("{} {e}", e.instance_path()))
        .collect();
    assert!(problems.is_empty(), "{what}: {problems:#?}");
}

/// What the validators let through: returns the first rule that is broken.
pub fn own_rules(bundle: &Value) -> Result<(), String> {
    let entries = bundle["entry"].as_array().ok_or("no entries")?;
    let urls: Vec<&str> = entries
        .iter()
        .map(|e| e["fullUrl"].as_str().unwrap())
        .collect();
    let unique: BTreeSet<&str> = urls.iter().copied().collect();
    if unique.len() != urls.len() {
        return Err("a fullUrl twice".to_owned());
    }
    for entry in entries {
        references(&entry["resource"], &unique)?;
    }
    for resource in resources(bundle, "VisionPrescription") {
        let status = resource["status"].as_str().unwrap_or("absent");
        if !["active", "cancelled", "draft", "entered-in-error"].contains(&status) {
            return Err(format!("status {status}"));
        }
        if resource["created"].is_null() {
            return Err("created".to_owned());
        }
        if resource["dateWritten"].is_null() && resource["_dateWritten"].is_null() {
            return Err("dateWritten".to_owned());
        }
        let lenses = resource["lensSpecification"].as_array().ok_or("no lens")?;
        if lenses.is_empty() {
            return Err("an empty list of lenses".to_owned());
        }
        for lens in lenses {
            if !["right", "left"].contains(&lens["eye"].as_str().unwrap_or_default()) {
                return Err("eye".to_owned());
            }
            if lens["cylinder"].is_null() != lens["axis"].is_null() {
                return Err("a cylinder or an axis alone".to_owned());
            }
            if !lens["axis"].is_null()
                && !lens["axis"]
                    .as_i64()
                    .is_some_and(|a| (1..=180).contains(&a))
            {
                return Err("axis".to_owned());
            }
            for prism in lens["prism"].as_array().into_iter().flatten() {
                let base = prism["base"].as_str().unwrap_or_default();
                if !["up", "down", "in", "out"].contains(&base)
                    || prism["amount"].as_f64().is_none_or(|a| a <= 0.0)
                {
                    return Err("prism".to_owned());
                }
            }
        }
    }
    no_empty(bundle)
}

/// FHIR knows neither empty lists, nor empty objects, nor empty texts.
fn no_empty(value: &Value) -> Result<(), String> {
    match value {
        Value::Array(list) if list.is_empty() => Err("an empty list".to_owned()),
        Value::Object(map) if map.is_empty() => Err("an empty object".to_owned()),
        Value::String(text) if text.is_empty() => Err("an empty text".to_owned()),
        Value::Null => Err("null".to_owned()),
        Value::Array(list) => list.iter().try_for_each(no_empty),
        Value::Object(map) => map.values().try_for_each(no_empty),
        _ => Ok(()),
    }
}

fn references(value: &Value, inside: &BTreeSet<&str>) -> Result<(), String> {
    match value {
        Value::Object(map) => map.iter().try_for_each(|(key, v)| match v.as_str() {
            Some(to) if key == "reference" && !inside.contains(to) => {
                Err(format!("{to} is not in the bundle"))
            }
            _ => references(v, inside),
        }),
        Value::Array(list) => list.iter().try_for_each(|v| references(v, inside)),
        _ => Ok(()),
    }
}
