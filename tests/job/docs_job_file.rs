//! The page on the job file describes every key that the model writes.

use std::collections::BTreeSet;

use rimbook::testing::job::{
    Aftercare, Compensates, Contact, Fitting, Frame, Job, LaboratoryPowers, Lenses, Origin,
    Origins, Pads, Powers, Prescription, Previous, PrismControl, PrismControlRead, Readings,
    Repair, SecondReading, Segment, Task, Tasks, Tint, Wearer,
};
use serde_json::Value;

/// A job with every optional object present, so that each key is serialised (as null or more).
fn with_every_object() -> Job {
    Job {
        wearer: Wearer {
            tasks: Some(Tasks(vec![Task::default()])),
            ..Wearer::default()
        },
        readings: Readings {
            prism_control_delta: Some(PrismControlRead::default()),
            ..Readings::default()
        },
        prescription: Prescription {
            previous: Some(Previous::default()),
            ..Prescription::default()
        },
        fitting: Fitting {
            second_reading: Some(SecondReading::default()),
            ..Fitting::default()
        },
        frame: Frame {
            pads: Some(Pads::default()),
            ..Frame::default()
        },
        lenses: Lenses {
            compensates: Some(Compensates::default()),
            prism_control: Some(PrismControl::default()),
            segment: Some(Segment::default()),
            tint: Some(Tint::default()),
            powers: Some(Powers::default()),
            laboratory_powers: Some(LaboratoryPowers::default()),
            ..Lenses::default()
        },
        origins: Origins::from([("job".to_owned(), Origin::default())]),
        aftercare: Aftercare {
            repairs: vec![Repair::default()],
            contacts: vec![Contact::default()],
        },
        ..Job::default()
    }
}

fn keys(value: &Value, into: &mut BTreeSet<String>) {
    for inner in value.as_array().into_iter().flatten() {
        keys(inner, into);
    }
    for (key, inner) in value.as_object().into_iter().flatten() {
        into.insert(key.clone());
        keys(inner, into);
    }
}

#[test]
fn every_key_of_the_model_is_on_the_page() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/job-file.md");
    let page = std::fs::read_to_string(path).unwrap();
    let mut all = BTreeSet::from(["format".to_owned(), "version".to_owned()]);
    keys(
        &serde_json::to_value(with_every_object()).unwrap(),
        &mut all,
    );
    assert!(all.contains("laboratory_powers") && all.contains("transmittance_percent"));
    let missing: Vec<_> = all
        .iter()
        .filter(|key| !page.contains(&format!("| `{key}` |")))
        .collect();
    assert!(missing.is_empty(), "not on the page: {missing:?}");
}

#[test]
fn the_tables_of_the_page_are_those_of_the_program() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/job-file.md");
    let page = std::fs::read_to_string(path).unwrap();
    let wanted = rimbook::testing::exchange::schema_page::with_tables(&page);
    if std::env::var_os("RIMBOOK_WRITE_DOCS").is_some() {
        std::fs::write(path, &wanted).unwrap();
        return;
    }
    assert!(
        wanted.matches("<!-- keys: ").count() > 20,
        "the page marks where its tables are"
    );
    assert_eq!(page, wanted, "RIMBOOK_WRITE_DOCS=1 writes it again");
}
