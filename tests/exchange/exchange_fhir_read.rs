//! The prescription from HL7 FHIR: the official examples value by value, each thing that could
//! change the meaning refused with its path, and every prescription back as it went out.
//!
//! Sources: `tests/data/SOURCES.md`.

use crate::common;

use crate::fhir::{bundle_of, job, own_rules};
use chrono::NaiveDate;
use proptest::prelude::*;
use rimbook::testing::exchange::fhir::{FhirJob, read};
use rimbook::testing::job::EyePrescription;
use rimbook::testing::trade::units::{Degree, Dioptre, PrismDioptre};
use serde_json::{Value, json};

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

/// The official example with another value at one path.
fn set(path: &str, value: Value) -> Value {
    spectacles(|file| {
        let (parent, key) = path.rsplit_once('/').unwrap();
        file.pointer_mut(parent).unwrap()[key] = value;
    })
}

#[test]
fn a_lens_that_could_mean_something_else_is_refused_with_its_path() {
    let lens = "VisionPrescription.lensSpecification[1]";
    let left = "/lensSpecification/1";
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
}

#[test]
fn whatever_could_change_the_meaning_is_refused_with_its_path() {
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
        read[0].not_taken,
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
        prop_assert_eq!(&back.not_taken, &Vec::<String>::new());
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
