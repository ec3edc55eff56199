//! The prescription as HL7 FHIR and back. Held against the official R4 JSON schema, the official
//! examples, an independent model of R4B and R5, and the rules that all three let through.
//!
//! Sources: `tests/data/SOURCES.md`.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    reason = "tests"
)]

mod common;

use std::collections::BTreeSet;

use chrono::NaiveDate;
use fhir_sdk::{r4b, r5};
use proptest::prelude::*;
use rimbook::demo::{files, resolve};
use rimbook::exchange::fhir::{Bundle, CannotSay, FhirJob, read};
use rimbook::job::{EyePrescription, Job, Stage, read_jobs};
use rimbook::units::{Degree, Dioptre, PrismDioptre};
use serde_json::{Value, json};

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 25).unwrap()
}

fn text_of(jobs: &[(&str, &Job)]) -> Result<String, CannotSay> {
    let mut bundle = Bundle::new(today());
    let mut text = Bundle::head().to_owned();
    for (number, job) in jobs {
        text.push_str(&bundle.job(number, job)?);
    }
    text.push_str(bundle.foot());
    Ok(text)
}

fn bundle_of(jobs: &[(&str, &Job)]) -> Value {
    serde_json::from_str(&text_of(jobs).unwrap()).unwrap()
}

fn resources<'a>(bundle: &'a Value, kind: &str) -> Vec<&'a Value> {
    let entries = bundle["entry"].as_array().into_iter().flatten();
    entries
        .map(|e| &e["resource"])
        .filter(|r| r["resourceType"] == kind)
        .collect()
}

/// The jobs of the demonstration that have a prescription.
fn demo() -> Vec<(String, Job)> {
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

fn job(prescription: &Value) -> Job {
    let file = json!({
        "format": "rimbook-job", "version": 1, "wearer": {"name": "Ada Fenwick"},
        "prescription": prescription,
    });
    read_jobs(&file.to_string()).unwrap().remove(0)
}

/// A validator of one definition of the official schema.
fn official(definition: &str) -> jsonschema::Validator {
    let mut schema = common::json("fhir/r4-visionprescription.schema.json");
    schema["$ref"] = json!(format!("#/definitions/{definition}"));
    jsonschema::validator_for(&schema).unwrap()
}

fn valid(validator: &jsonschema::Validator, what: &str, value: &Value) {
    let problems: Vec<String> = validator
        .iter_errors(value)
        .map(|e| format!("{} {e}", e.instance_path()))
        .collect();
    assert!(problems.is_empty(), "{what}: {problems:#?}");
}

/// What the validators let through: returns the first rule that is broken.
fn own_rules(bundle: &Value) -> Result<(), String> {
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

#[test]
fn every_prescription_of_the_demonstration_is_valid_by_the_official_schema() {
    let (prescription, name) = (official("VisionPrescription"), official("HumanName"));
    let (code, quantity) = (official("CodeableConcept"), official("Quantity"));
    let (telecom, identifier) = (official("ContactPoint"), official("Identifier"));
    let jobs = demo();
    assert!(jobs.len() > 20);
    let mut observations = 0;
    for (number, job) in &jobs {
        let bundle = bundle_of(&[(number, job)]);
        assert_eq!(bundle["type"], "collection");
        let found = resources(&bundle, "VisionPrescription");
        assert_eq!(found.len(), 1);
        valid(&prescription, number, found[0]);
        for person in ["Patient", "Practitioner"] {
            for person in resources(&bundle, person) {
                valid(&name, number, &person["name"][0]);
                for each in person["telecom"].as_array().into_iter().flatten() {
                    valid(&telecom, number, each);
                }
                for each in person["identifier"].as_array().into_iter().flatten() {
                    valid(&identifier, number, each);
                }
            }
        }
        for observation in resources(&bundle, "Observation") {
            observations += 1;
            valid(&code, number, &observation["code"]);
            valid(&quantity, number, &observation["valueQuantity"]);
        }
        own_rules(&bundle).unwrap_or_else(|e| panic!("{number}: {e}"));
    }
    assert!(observations > 50);
}

#[test]
fn the_official_schema_and_the_own_rules_refuse_what_is_wrong() {
    let job = job(&json!({
        "tested_on": "2026-11-01", "prescriber": "P. Lake",
        "right": {"sphere_d": -2.5, "cylinder_d": -0.75, "axis_deg": 90, "base_in_delta": 1},
    }));
    let good = bundle_of(&[("12", &job)]);
    own_rules(&good).unwrap();
    let at = good["entry"]
        .as_array()
        .unwrap()
        .iter()
        .position(|e| e["resource"]["resourceType"] == "VisionPrescription")
        .unwrap();
    let schema = official("VisionPrescription");
    let changed = |path: &str, value: Value| {
        let mut bundle = good.clone();
        *bundle
            .pointer_mut(&format!("/entry/{at}/resource{path}"))
            .unwrap_or_else(|| panic!("{path}")) = value;
        bundle
    };
    for (path, value) in [
        ("/status", json!("done")),
        ("/lensSpecification", json!([])),
        ("/lensSpecification/0/axis", json!(0)),
        ("/lensSpecification/0/axis", json!(181)),
        ("/lensSpecification/0/axis", json!(90.5)),
        ("/lensSpecification/0/cylinder", json!(null)),
        ("/lensSpecification/0/prism/0/base", json!("nasal")),
        ("/lensSpecification/0/prism/0/amount", json!(-1)),
        ("/patient/reference", json!("urn:uuid:elsewhere")),
    ] {
        assert!(own_rules(&changed(path, value)).is_err(), "{path}");
    }
    for (path, value) in [
        ("/lensSpecification/0/eye", json!("both")),
        ("/lensSpecification/0/prism/0/base", json!("nasal")),
        ("/lensSpecification/0/sphere", json!("-2.50")),
        ("/lensSpecification", json!({})),
        ("/identifier", json!("12")),
    ] {
        let bundle = changed(path, value);
        assert!(!schema.is_valid(&bundle["entry"][at]["resource"]), "{path}");
    }
}

/// Parses a bundle with the models of one version and returns powers as that model understands
/// them: eye, sphere, cylinder, axis, add, prisms.
macro_rules! by_model {
    ($version:ident, $text:expr) => {{
        let bundle: $version::resources::Bundle =
            serde_json::from_str($text).unwrap_or_else(|e| panic!("{e}"));
        let mut all = Vec::new();
        for entry in bundle.entry.iter().flatten() {
            if let Some($version::resources::Resource::VisionPrescription(p)) = &entry.resource {
                for lens in p.lens_specification.iter().flatten() {
                    let prisms: Vec<(f64, String)> = lens
                        .prism
                        .iter()
                        .flatten()
                        .map(|p| (p.amount, p.base.as_ref().to_owned()))
                        .collect();
                    all.push((
                        lens.eye.as_ref().to_owned(),
                        lens.sphere,
                        lens.cylinder,
                        lens.axis,
                        lens.add,
                        prisms,
                    ));
                }
            }
        }
        all
    }};
}

#[test]
fn independent_models_of_r4b_and_r5_read_the_same_powers() {
    for (number, mut job) in demo() {
        // Both models want the day of writing to be there; FHIR lets a reason stand in its place.
        job.prescription.tested_on.get_or_insert_with(today);
        let text = text_of(&[(&number, &job)]).unwrap();
        let older = by_model!(r4b, &text);
        assert_eq!(older, by_model!(r5, &text), "{number}");
        let p = &job.prescription;
        let eyes = [("right", &p.right), ("left", &p.left)];
        let mut wanted = Vec::new();
        for (word, eye) in eyes {
            let Some(sphere) = eye.sphere_d else { continue };
            let cylinder = eye.cylinder_d.map(Dioptre::get).filter(|c| c.abs() > 0.0);
            #[allow(clippy::cast_possible_truncation, reason = "whole degrees up to 180")]
            let axis = cylinder.and(eye.axis_deg).map(|a| a.get() as i32);
            let mut prisms = Vec::new();
            for (amount, plus, minus) in [
                (eye.base_in_delta, "in", "out"),
                (eye.base_up_delta, "up", "down"),
            ] {
                if let Some(amount) = amount.map(PrismDioptre::get).filter(|a| a.abs() > 0.0) {
                    let base = if amount > 0.0 { plus } else { minus };
                    prisms.push((amount.abs(), base.to_owned()));
                }
            }
            let add = eye.addition_d.map(Dioptre::get).filter(|a| a.abs() > 0.0);
            wanted.push((
                word.to_owned(),
                Some(sphere.get()),
                cylinder,
                axis,
                add,
                prisms,
            ));
        }
        assert_eq!(older, wanted, "{number}");
    }
}

#[test]
fn decimals_keep_their_places_in_the_text() {
    let job = job(&json!({
        "right": {"sphere_d": -2.5, "cylinder_d": -0.125, "axis_deg": 5, "addition_d": 2},
        "left": {"sphere_d": 0, "base_in_delta": -1.5, "base_up_delta": 2},
    }));
    let text = text_of(&[("12", &job)]).unwrap();
    for wanted in [
        "\"sphere\": -2.50,",
        "\"cylinder\": -0.125,",
        "\"axis\": 5,",
        "\"add\": 2.00",
        "\"sphere\": 0.00,",
        "\"amount\": 1.50,",
        "\"base\": \"out\"",
        "\"amount\": 2.00,",
        "\"base\": \"up\"",
    ] {
        assert!(text.contains(wanted), "{wanted} in {text}");
    }
}

#[test]
fn what_is_not_known_is_said_to_be_unknown() {
    let without = job(&json!({"right": {"sphere_d": -2.5}}));
    let bundle = bundle_of(&[("12", &without)]);
    let prescription = resources(&bundle, "VisionPrescription")[0];
    let reason = json!({"extension": [{
        "url": "http://hl7.org/fhir/StructureDefinition/data-absent-reason",
        "valueCode": "unknown",
    }]});
    assert_eq!(prescription["_dateWritten"], reason);
    assert_eq!(prescription["prescriber"], reason);
    assert!(prescription["dateWritten"].is_null());
    valid(&official("VisionPrescription"), "12", prescription);
    let with = job(&json!({
        "right": {"sphere_d": -2.5}, "tested_on": "2026-11-01",
        "prescriber": "P. Lake", "prescriber_registration": "R3307",
    }));
    let bundle = bundle_of(&[("12", &with)]);
    let prescription = resources(&bundle, "VisionPrescription")[0];
    assert_eq!(prescription["dateWritten"], "2026-11-01");
    assert!(prescription["_dateWritten"].is_null());
    assert_eq!(resources(&bundle, "Practitioner").len(), 1);
    let back = read(&bundle).unwrap().remove(0).job;
    assert_eq!(back.prescription, with.prescription);
}

#[test]
fn what_cannot_be_said_is_refused_with_a_sentence_and_leaves_the_bundle_as_it_was() {
    let good = job(&json!({"right": {"sphere_d": -1}}));
    for (prescription, wanted) in [
        (
            json!({"right": {"sphere_d": -1, "cylinder_d": -0.5, "axis_deg": 90.5}}),
            "the right axis of 90.5 degrees cannot be said: FHIR takes whole degrees from 1 to 180",
        ),
        (
            json!({"left": {"sphere_d": -1, "cylinder_d": -0.5, "axis_deg": 190}}),
            "the left axis of 190.0 degrees cannot be said: FHIR takes whole degrees from 1 to 180",
        ),
        (
            json!({"left": {"sphere_d": -1, "cylinder_d": -0.5}}),
            "the left cylinder has no axis: it would be read as a power that was never prescribed",
        ),
        (
            json!({"right": {"sphere_d": -1}, "left": {"base_up_delta": 1}}),
            "the left eye has values but no sphere: it would be left out unseen",
        ),
        (
            json!({"notes": "no powers"}),
            "the job has no prescription: a VisionPrescription has at least one lens",
        ),
    ] {
        let bad = job(&prescription);
        let mut bundle = Bundle::new(today());
        let said = bundle.job("1", &bad).unwrap_err();
        assert_eq!(said.to_string(), wanted);
        let mut fresh = Bundle::new(today());
        assert_eq!(bundle.job("2", &good), fresh.job("2", &good));
    }
    // An axis of 0 is the horizontal, which FHIR calls 180.
    let flat = job(&json!({"right": {"sphere_d": -1, "cylinder_d": -0.5, "axis_deg": 0}}));
    let bundle = bundle_of(&[("1", &flat)]);
    assert_eq!(
        resources(&bundle, "VisionPrescription")[0]["lensSpecification"][0]["axis"],
        180
    );
    // No jobs: no key, for FHIR knows no empty list.
    let none = bundle_of(&[]);
    assert_eq!(
        none,
        json!({"resourceType": "Bundle", "type": "collection"})
    );
}

#[test]
fn people_are_written_once_and_namesakes_are_kept_apart() {
    let mut one = job(&json!({"right": {"sphere_d": -1}, "prescriber": "P. Lake"}));
    let bundle = bundle_of(&[("1", &one), ("2", &one)]);
    assert_eq!(resources(&bundle, "Patient").len(), 2, "no day of birth");
    assert_eq!(resources(&bundle, "Practitioner").len(), 1);
    own_rules(&bundle).unwrap();
    one.wearer.born = NaiveDate::from_ymd_opt(1980, 1, 2);
    let mut other = one.clone();
    let bundle = bundle_of(&[("1", &one), ("2", &other)]);
    assert_eq!(resources(&bundle, "Patient").len(), 1);
    own_rules(&bundle).unwrap();
    other.wearer.born = NaiveDate::from_ymd_opt(1981, 1, 2);
    let bundle = bundle_of(&[("1", &one), ("2", &other)]);
    assert_eq!(resources(&bundle, "Patient").len(), 2);
}

#[test]
fn a_prescription_given_up_with_its_job_is_cancelled() {
    let mut one = job(&json!({"right": {"sphere_d": -1}}));
    one.stage = Some(Stage::Cancelled);
    let bundle = bundle_of(&[("1", &one)]);
    assert_eq!(
        resources(&bundle, "VisionPrescription")[0]["status"],
        "cancelled"
    );
    assert!(read(&bundle).is_err());
}

#[test]
fn the_official_spectacles_are_read_value_by_value() {
    for version in ["r4", "r4b", "r5"] {
        let file = common::json(&format!("fhir/{version}-visionprescription-33123.json"));
        let FhirJob { job, .. } = read(&file).unwrap().remove(0);
        let p = &job.prescription;
        assert_eq!(
            p.right,
            EyePrescription {
                sphere_d: Some(Dioptre::from_thousandths(-2000)),
                addition_d: Some(Dioptre::from_thousandths(2000)),
                base_up_delta: Some(PrismDioptre::from_thousandths(-500)),
                ..EyePrescription::default()
            },
            "{version}"
        );
        assert_eq!(
            p.left,
            EyePrescription {
                sphere_d: Some(Dioptre::from_thousandths(-1000)),
                cylinder_d: Some(Dioptre::from_thousandths(-500)),
                axis_deg: Some(Degree::from_thousandths(180_000)),
                addition_d: Some(Dioptre::from_thousandths(2000)),
                base_up_delta: Some(PrismDioptre::from_thousandths(500)),
                ..EyePrescription::default()
            },
            "{version}"
        );
        assert_eq!(p.tested_on, NaiveDate::from_ymd_opt(2014, 6, 15));
        assert_eq!(p.prescriber, None);
        assert_eq!(job.wearer.name, None, "the file names nobody");
    }
}

#[test]
fn the_official_contact_lenses_and_the_old_form_are_refused_as_what_they_are() {
    for version in ["r4", "r4b", "r5"] {
        let file = common::json(&format!("fhir/{version}-visionprescription-33124.json"));
        let said = read(&file).unwrap_err();
        assert_eq!(
            said.place,
            "VisionPrescription.lensSpecification[0].product"
        );
        assert!(said.problem.contains("contact lens"), "{said}");
    }
    for number in ["33123", "33124"] {
        let file = common::json(&format!("fhir/stu3-visionprescription-{number}.json"));
        let said = read(&file).unwrap_err();
        assert!(said.to_string().contains("STU3"), "{said}");
    }
}

/// The official example as it is changed at one place.
fn spectacles(change: impl FnOnce(&mut Value)) -> Value {
    let mut file = common::json("fhir/r4-visionprescription-33123.json");
    change(&mut file);
    file
}

#[test]
fn whatever_could_change_the_meaning_is_refused_with_its_path() {
    let lens = "VisionPrescription.lensSpecification[1]";
    let set = |path: &str, value: Value| {
        spectacles(|file| {
            let (parent, key) = path.rsplit_once('/').unwrap();
            file.pointer_mut(parent).unwrap()[key] = value;
        })
    };
    let left = "/lensSpecification/1";
    for (path, value, place) in [
        ("/status", json!("draft"), "VisionPrescription.status"),
        ("/status", json!("cancelled"), "VisionPrescription.status"),
        (
            "/status",
            json!("entered-in-error"),
            "VisionPrescription.status",
        ),
        ("/status", json!("unknown"), "VisionPrescription.status"),
        ("/status", json!(null), "VisionPrescription.status"),
        (
            "/modifierExtension",
            json!([{"url": "x"}]),
            "VisionPrescription.modifierExtension",
        ),
        (
            "/implicitRules",
            json!("http://x"),
            "VisionPrescription.implicitRules",
        ),
        (
            "/lensSpecification",
            json!([]),
            "VisionPrescription.lensSpecification",
        ),
        (
            "/lensSpecification",
            json!(null),
            "VisionPrescription.lensSpecification",
        ),
        (
            "/lensSpecification",
            json!({}),
            "VisionPrescription.lensSpecification",
        ),
    ] {
        assert_eq!(
            read(&set(path, value.clone())).unwrap_err().place,
            place,
            "{path} {value}"
        );
    }
    for (key, value, place) in [
        ("eye", json!("right"), "eye"),
        ("eye", json!("both"), "eye"),
        ("eye", json!(null), "eye"),
        ("axis", json!(0), "axis"),
        ("axis", json!(181), "axis"),
        ("axis", json!(-90), "axis"),
        ("axis", json!(90.5), "axis"),
        ("axis", json!("90"), "axis"),
        ("axis", json!(null), "axis"),
        ("cylinder", json!(null), "cylinder"),
        ("cylinder", json!("-0.50"), "cylinder"),
        ("sphere", json!(null), "sphere"),
        ("sphere", json!("-1.00"), "sphere"),
        ("sphere", json!(-61), "sphere"),
        ("add", json!(-2), "add"),
        ("add", json!(true), "add"),
        ("product", json!(null), "product"),
        ("product", json!({"text": "lens"}), "product"),
        (
            "product",
            json!({"coding": [{"code": "contact"}]}),
            "product",
        ),
        ("power", json!(-2), "power"),
        ("backCurve", json!(8.7), "backCurve"),
        ("diameter", json!(14), "diameter"),
        ("duration", json!({"value": 1}), "duration"),
        ("color", json!("green"), "color"),
        (
            "modifierExtension",
            json!([{"url": "x"}]),
            "modifierExtension",
        ),
        ("prism", json!(0.5), "prism"),
        ("prism", json!("0.5 up"), "prism"),
        ("prism", json!({"amount": 1, "base": "up"}), "prism"),
        ("base", json!("up"), "prism"),
        ("prism", json!([{"amount": 1}]), "prism[0].base"),
        (
            "prism",
            json!([{"amount": 1, "base": "nasal"}]),
            "prism[0].base",
        ),
        ("prism", json!([{"amount": 1, "base": 90}]), "prism[0].base"),
        (
            "prism",
            json!([{"amount": -1, "base": "up"}]),
            "prism[0].amount",
        ),
        ("prism", json!([{"base": "up"}]), "prism[0].amount"),
        ("prism", json!([null]), "prism[0].amount"),
        (
            "prism",
            json!([{"amount": 1, "base": "up"}, {"amount": 70, "base": "in"}]),
            "prism",
        ),
        (
            "prism",
            json!([{"amount": 1, "base": "up", "modifierExtension": [{"url": "x"}]}]),
            "prism[0].modifierExtension",
        ),
    ] {
        let file = set(&format!("{left}/{key}"), value.clone());
        let said = read(&file).expect_err(&format!("{key} {value}"));
        assert_eq!(said.place, format!("{lens}.{place}"), "{key} {value}");
        assert!(!said.problem.is_empty());
    }
    for (file, place) in [
        (json!({}), "resourceType"),
        (json!([]), "resourceType"),
        (json!({"resourceType": "Patient"}), "resourceType"),
        (json!({"resourceType": "Bundle"}), "entry"),
        (
            json!({"resourceType": "Bundle", "implicitRules": "x"}),
            "Bundle.implicitRules",
        ),
    ] {
        assert_eq!(read(&file).unwrap_err().place, place, "{file}");
    }
}

#[test]
fn a_bundle_is_all_or_nothing_and_says_what_it_left() {
    let good = spectacles(|_| {});
    let bad = spectacles(|file| file["status"] = json!("draft"));
    let bundle = |list: &[&Value]| {
        let entries: Vec<Value> = list.iter().map(|r| json!({"resource": r})).collect();
        json!({"resourceType": "Bundle", "type": "collection", "entry": entries})
    };
    assert_eq!(read(&bundle(&[&good, &good])).unwrap().len(), 2);
    let said = read(&bundle(&[&good, &bad])).unwrap_err();
    assert_eq!(said.place, "entry[1].resource.status");
    let seen = json!({"resourceType": "Observation"});
    let patient = json!({
        "resourceType": "Patient", "id": "example", "birthDate": "1980",
        "name": [{"family": "Fenwick", "given": ["Ada", "May"]}],
        "telecom": [{"system": "email", "value": "a@example.org"}, {"system": "phone", "value": "1"}],
    });
    let read = read(&bundle(&[&good, &seen, &seen, &patient])).unwrap();
    let wearer = &read[0].job.wearer;
    assert_eq!(wearer.name.as_deref(), Some("Ada May Fenwick"));
    assert_eq!(wearer.phone.as_deref(), Some("1"));
    assert_eq!(wearer.born, None);
    assert_eq!(
        read[0].left,
        ["birthDate: no whole day", "Observation: 2 of the entries"]
    );
}

fn eighths(low: i32, high: i32) -> impl Strategy<Value = i32> {
    (low..=high).prop_map(|n| n * 125)
}

fn eye() -> impl Strategy<Value = EyePrescription> {
    let prism = || prop::option::of(eighths(-80, 80));
    let cylinder = prop::option::of((eighths(-64, 64), 1..=180));
    (
        eighths(-200, 200),
        cylinder,
        prop::option::of(eighths(1, 32)),
        prism(),
        prism(),
    )
        .prop_map(|(sphere, cylinder, addition, inward, upward)| {
            let cylinder = cylinder.filter(|(c, _)| *c != 0);
            let prism = |v: Option<i32>| v.filter(|v| *v != 0).map(PrismDioptre::from_thousandths);
            EyePrescription {
                sphere_d: Some(Dioptre::from_thousandths(sphere)),
                cylinder_d: cylinder.map(|(c, _)| Dioptre::from_thousandths(c)),
                axis_deg: cylinder.map(|(_, a)| Degree::from_thousandths(a * 1000)),
                addition_d: addition.map(Dioptre::from_thousandths),
                base_in_delta: prism(inward),
                base_up_delta: prism(upward),
                ..EyePrescription::default()
            }
        })
}

fn any_json() -> impl Strategy<Value = Value> {
    let keys = prop::sample::select(vec![
        "resourceType",
        "entry",
        "resource",
        "status",
        "lensSpecification",
        "eye",
        "sphere",
        "cylinder",
        "axis",
        "prism",
        "amount",
        "base",
        "add",
        "product",
        "coding",
        "code",
        "patient",
        "prescriber",
        "reference",
        "name",
        "given",
        "dateWritten",
        "note",
        "text",
        "contained",
        "telecom",
        "birthDate",
    ]);
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        any::<f64>().prop_map(Value::from),
        "\\PC{0,12}".prop_map(Value::from),
        prop::sample::select(vec![
            "VisionPrescription",
            "Bundle",
            "Patient",
            "active",
            "lens",
            "right",
            "left",
            "up",
            "#a",
        ])
        .prop_map(Value::from),
    ];
    leaf.prop_recursive(5, 60, 6, move |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..4).prop_map(Value::from),
            prop::collection::vec((keys.clone(), inner), 0..8).prop_map(|pairs| {
                Value::Object(pairs.into_iter().map(|(k, v)| (k.to_owned(), v)).collect())
            }),
        ]
    })
}

proptest! {
    #[test]
    fn every_prescription_comes_back_as_it_went_out(right in eye(), left in eye()) {
        let mut one = job(&json!({}));
        one.prescription.right = right;
        one.prescription.left = left;
        let bundle = bundle_of(&[("7", &one)]);
        prop_assert_eq!(own_rules(&bundle), Ok(()));
        let back = read(&bundle).unwrap().remove(0);
        prop_assert_eq!(&back.job.prescription, &one.prescription);
        prop_assert_eq!(&back.job.wearer, &one.wearer);
        prop_assert_eq!(&back.left, &Vec::<String>::new());
    }

    #[test]
    fn no_json_makes_the_reader_panic(value in any_json(), other in any_json()) {
        let _ = read(&value);
        let mut file = spectacles(|_| {});
        file["lensSpecification"][0] = value.clone();
        let _ = read(&file);
        for key in ["prism", "axis", "product", "note"] {
            let mut file = spectacles(|_| {});
            file["lensSpecification"][1][key] = value.clone();
            let _ = read(&file);
        }
        for key in ["patient", "prescriber", "dateWritten", "contained", "lensSpecification"] {
            let mut file = spectacles(|_| {});
            file[key] = value.clone();
            file["patient"] = other.clone();
            let _ = read(&file);
        }
    }
}
