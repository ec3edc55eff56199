//! The prescription as HL7 FHIR, written: held against HL7's own `StructureDefinitions` of R4, R4B and
//! R5, walked element by element: known paths, how often each occurs, types, codes of required bindings.
//!
//! Types that a definition only names (`Identifier`, `CodeableConcept` and the like) are held against
//! the official R4 JSON schema of that type. Sources: `tests/data/SOURCES.md`.

use std::collections::BTreeMap;

use jsonschema::Validator;
use rimbook::testing::exchange::fhir::read;
use serde_json::{Value, json};

use crate::common;
use crate::fhir::{bundle_of, demo, job, official, resources};

const VERSIONS: [&str; 3] = ["r4", "r4b", "r5"];

/// One element of a `StructureDefinition`.
struct Element {
    least: usize,
    most: Option<usize>,
    kind: String,
    /// The codes of a required binding; `None` where any code will do.
    codes: Option<Vec<String>>,
}

/// The elements of a resource by their paths, in one version of FHIR.
struct Definition {
    version: &'static str,
    elements: BTreeMap<String, Element>,
    types: BTreeMap<String, Validator>,
}

impl Definition {
    fn of(version: &'static str) -> Self {
        let file = common::json(&format!(
            "fhir/{version}-structuredefinition-visionprescription.json"
        ));
        let list = file["snapshot"]["element"].as_array().unwrap();
        let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
        let elements: BTreeMap<String, Element> = list
            .iter()
            .map(|e| {
                let bound = e["binding"]["strength"] == "required";
                // The definition lists the codes of a short value set in its one-line text.
                let codes = text(&e["short"]);
                let codes = (bound && codes.contains('|'))
                    .then(|| codes.split('|').map(|c| c.trim().to_owned()).collect());
                let element = Element {
                    least: usize::try_from(e["min"].as_u64().unwrap()).unwrap(),
                    most: e["max"].as_str().unwrap().parse().ok(),
                    kind: text(&e["type"][0]["code"]),
                    codes,
                };
                (text(&e["path"]), element)
            })
            .collect();
        let types = elements
            .values()
            .filter(|e| e.kind.starts_with(char::is_uppercase))
            .filter(|e| !["BackboneElement", "Resource"].contains(&e.kind.as_str()))
            .map(|e| (e.kind.clone(), official(&e.kind)))
            .collect();
        Self {
            version,
            elements,
            types,
        }
    }

    /// Returns everything of a resource that the definition does not allow.
    fn faults(&self, resource: &Value) -> Vec<String> {
        let mut faults = Vec::new();
        let Some(name) = resource["resourceType"].as_str() else {
            return vec!["no resourceType".to_owned()];
        };
        let mut body = resource.clone();
        body.as_object_mut().unwrap().remove("resourceType");
        self.object(name, &body, &mut faults);
        faults
    }

    /// The elements directly under a path, by their own names.
    fn children(&self, path: &str) -> impl Iterator<Item = (&str, &Element)> {
        let head = format!("{path}.");
        self.elements.iter().filter_map(move |(p, e)| {
            let name = p.strip_prefix(&head)?;
            (!name.contains('.')).then_some((name, e))
        })
    }

    fn object(&self, path: &str, value: &Value, faults: &mut Vec<String>) {
        let version = self.version;
        let Some(map) = value.as_object() else {
            faults.push(format!("{version} {path}: no object"));
            return;
        };
        for key in map.keys() {
            let plain = key.strip_prefix('_').unwrap_or(key);
            if !self.children(path).any(|(name, _)| name == plain) {
                faults.push(format!("{version} {path}.{key}: unknown"));
            }
        }
        for (name, element) in self.children(path) {
            let at = format!("{path}.{name}");
            let repeats = element.most != Some(1);
            let values: Vec<&Value> = match map.get(name) {
                None => Vec::new(),
                Some(Value::Array(list)) if repeats => list.iter().collect(),
                Some(value) if !repeats && !value.is_array() => vec![value],
                Some(_) => {
                    faults.push(format!("{version} {at}: a list where none is, or none"));
                    continue;
                }
            };
            // A primitive may say by an extension why it has no value; so may a reference.
            let reason = map.get(&format!("_{name}"));
            if let Some(reason) = reason {
                self.typed(&at, "Extension", &reason["extension"][0], faults);
            }
            let count = values.len().max(usize::from(reason.is_some()));
            if count < element.least || element.most.is_some_and(|most| count > most) {
                faults.push(format!("{version} {at}: {count} times"));
            }
            for value in values {
                self.value(&at, element, value, faults);
            }
        }
    }

    fn value(&self, at: &str, element: &Element, value: &Value, faults: &mut Vec<String>) {
        let version = self.version;
        let text = value.as_str();
        let good = match element.kind.as_str() {
            "BackboneElement" => return self.object(at, value, faults),
            "decimal" => value.is_number(),
            "integer" => value.is_i64(),
            "code" => text.is_some_and(|t| !t.is_empty() && t.trim() == t),
            "dateTime" => text.is_some_and(is_date_time),
            "string" | "uri" | "http://hl7.org/fhirpath/System.String" => {
                text.is_some_and(|t| !t.is_empty())
            }
            kind => return self.typed(at, kind, value, faults),
        };
        if !good {
            faults.push(format!("{version} {at}: {value} is no {}", element.kind));
        }
        if let (Some(codes), Some(text)) = (&element.codes, text)
            && !codes.iter().any(|c| c == text)
        {
            faults.push(format!("{version} {at}: {text} is none of {codes:?}"));
        }
    }

    fn typed(&self, at: &str, kind: &str, value: &Value, faults: &mut Vec<String>) {
        let Some(validator) = self.types.get(kind) else {
            faults.push(format!("{} {at}: no schema for {kind}", self.version));
            return;
        };
        // HL7's schema lists the keys of a type and leaves out that it is an object.
        if !value.is_object() {
            faults.push(format!("{} {at}: {value} is no {kind}", self.version));
        }
        for e in validator.iter_errors(value) {
            faults.push(format!("{} {at}{}: {e}", self.version, e.instance_path()));
        }
    }
}

/// A year, a month, a day, or a moment with its zone.
fn is_date_time(text: &str) -> bool {
    let day = |t: &str| chrono::NaiveDate::parse_from_str(t, "%Y-%m-%d").is_ok();
    match text.len() {
        4 => day(&format!("{text}-01-01")),
        7 => day(&format!("{text}-01")),
        10 => day(text),
        _ => chrono::DateTime::parse_from_rfc3339(text).is_ok(),
    }
}

fn definitions() -> Vec<Definition> {
    VERSIONS.map(Definition::of).into()
}

fn example(version: &str, number: &str) -> Value {
    common::json(&format!("fhir/{version}-visionprescription-{number}.json"))
}

#[test]
fn the_definitions_say_what_the_walk_needs_and_allow_the_official_examples() {
    for definition in definitions() {
        let at = |path: &str| &definition.elements[&format!("VisionPrescription.{path}")];
        assert_eq!(at("status").least, 1);
        assert_eq!(at("lensSpecification").most, None);
        for (path, codes) in [
            ("status", 4),
            ("lensSpecification.eye", 2),
            ("lensSpecification.prism.base", 4),
        ] {
            let found = at(path).codes.as_ref().map(Vec::len);
            assert_eq!(found, Some(codes), "{} {path}", definition.version);
        }
        for number in ["33123", "33124"] {
            let faults = definition.faults(&example(definition.version, number));
            assert!(faults.is_empty(), "{number}: {faults:#?}");
        }
        // The example of the version before R4 had another shape.
        assert!(!definition.faults(&example("stu3", "33123")).is_empty());
    }
}

#[test]
fn every_prescription_of_the_demonstration_is_allowed_by_every_definition() {
    let definitions = definitions();
    let jobs = demo();
    assert!(jobs.len() > 20);
    for (number, job) in &jobs {
        let bundle = bundle_of(&[(number, job)]);
        for definition in &definitions {
            let found = resources(&bundle, "VisionPrescription");
            assert_eq!(found.len(), 1);
            let faults = definition.faults(found[0]);
            assert!(faults.is_empty(), "{number}: {faults:#?}");
        }
    }
}

#[test]
fn each_definition_refuses_what_is_wrong() {
    let job = job(&json!({
        "tested_on": "2026-11-01", "prescriber": "P. Lake",
        "right": {"sphere_d": -2.5, "cylinder_d": -0.75, "axis_deg": 90, "base_in_delta": 1},
    }));
    let bundle = bundle_of(&[("12", &job)]);
    let good = resources(&bundle, "VisionPrescription")[0];
    let set = |path: &str, key: &str, value: Option<Value>| {
        let mut changed = good.clone();
        let map = changed.pointer_mut(path).unwrap().as_object_mut().unwrap();
        match value {
            Some(value) => map.insert(key.to_owned(), value),
            None => map.remove(key),
        };
        changed
    };
    let lens = "/lensSpecification/0";
    let prism = "/lensSpecification/0/prism/0";
    for definition in definitions() {
        assert_eq!(definition.faults(good), Vec::<String>::new());
        for (path, key, value) in [
            ("", "status", None),
            ("", "status", Some(json!("done"))),
            ("", "dateWritten", None),
            ("", "dateWritten", Some(json!("1 Nov 2026"))),
            ("", "patient", None),
            ("", "patient", Some(json!("Ada Fenwick"))),
            ("", "pd", Some(json!(62))),
            ("", "lensSpecification", None),
            ("", "lensSpecification", Some(json!({}))),
            ("", "lensSpecification", Some(json!([]))),
            (lens, "product", None),
            (lens, "eye", Some(json!("both"))),
            (lens, "sphere", Some(json!("-2.50"))),
            (lens, "sphere", Some(json!([-2.5]))),
            (lens, "sphere_d", Some(json!(-2.5))),
            (lens, "axis", Some(json!(90.5))),
            (prism, "base", Some(json!("nasal"))),
            (prism, "amount", None),
            (prism, "angle", Some(json!(90))),
        ] {
            let faults = definition.faults(&set(path, key, value.clone()));
            assert!(
                faults.iter().any(|f| f.contains(key)),
                "{path} {key} {value:?}: {faults:?}"
            );
        }
    }
}

/// An official example read by the program and written again holds the same lenses.
#[test]
fn the_official_spectacles_are_written_as_they_were() {
    for version in VERSIONS {
        let original = example(version, "33123");
        let job = read(&original).unwrap().remove(0).job;
        let bundle = bundle_of(&[("1", &job)]);
        let written = resources(&bundle, "VisionPrescription")[0];
        for key in ["status", "dateWritten"] {
            assert_eq!(written[key], original[key], "{version} {key}");
        }
        let lenses = |of: &Value| -> Vec<Value> {
            let mut lenses = of["lensSpecification"].as_array().unwrap().clone();
            for lens in &mut lenses {
                lens.as_object_mut().unwrap().remove("product");
            }
            lenses
        };
        assert_eq!(lenses(written), lenses(&original), "{version}");
        let code = |of: &Value| of["lensSpecification"][0]["product"]["coding"][0]["code"].clone();
        assert_eq!(code(written), code(&original), "{version}");
    }
}
