//! The prescription as HL7 FHIR, written: held against the official R4 JSON schema and the rules that
//! a schema lets through.
//!
//! Sources: `tests/data/SOURCES.md`.

use crate::fhir::{bundle_of, demo, job, official, own_rules, resources, text_of, today, valid};
use chrono::NaiveDate;
use rimbook::testing::exchange::fhir::{Bundle, read};
use rimbook::testing::job::Stage;
use rimbook::testing::trade::units::{Dioptre, PrismDioptre};
use serde_json::{Value, json};

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

/// The powers of a bundle: eye, sphere, cylinder, axis, addition, prisms.
type Powers = Vec<(
    String,
    Option<f64>,
    Option<f64>,
    Option<i64>,
    Option<f64>,
    Vec<(f64, String)>,
)>;

/// Reads the powers by the names that the `VisionPrescription` of R4, R4B and R5 shares.
fn powers(bundle: &Value) -> Powers {
    let prescriptions = resources(bundle, "VisionPrescription");
    let lenses = prescriptions
        .into_iter()
        .flat_map(|p| p["lensSpecification"].as_array().unwrap());
    lenses
        .map(|lens| {
            let prisms = lens["prism"].as_array().into_iter().flatten();
            (
                lens["eye"].as_str().unwrap().to_owned(),
                lens["sphere"].as_f64(),
                lens["cylinder"].as_f64(),
                lens["axis"].as_i64(),
                lens["add"].as_f64(),
                prisms
                    .map(|p| {
                        let base = p["base"].as_str().unwrap();
                        (p["amount"].as_f64().unwrap(), base.to_owned())
                    })
                    .collect(),
            )
        })
        .collect()
}

#[test]
fn every_power_of_the_demonstration_is_written_under_its_own_name() {
    for (number, mut job) in demo() {
        job.prescription.tested_on.get_or_insert_with(today);
        let written = powers(&bundle_of(&[(&number, &job)]));
        let p = &job.prescription;
        let eyes = [("right", &p.right), ("left", &p.left)];
        let mut wanted = Vec::new();
        for (word, eye) in eyes {
            let Some(sphere) = eye.sphere_d else { continue };
            let cylinder = eye.cylinder_d.map(Dioptre::get).filter(|c| c.abs() > 0.0);
            #[allow(clippy::cast_possible_truncation, reason = "whole degrees up to 180")]
            let axis = cylinder.and(eye.axis_deg).map(|a| a.get() as i64);
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
        assert_eq!(written, wanted, "{number}");
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
