//! No value is typed and then seen nowhere: each field changes what a card, a sheet, the reading aloud,
//! a check, a comparison or a worked-out line says of a job, or its row says that only the whole record
//! lists it; and the whole record has every one.

use chrono::NaiveDate;
use rimbook::testing::book::demo::{files, resolve};
use rimbook::testing::exchange::fhir::Bundle;
use rimbook::testing::job::fields::{
    Field, FieldKind, PrismAxis, Shown, all_fields, change, limits, parse, show,
};
use rimbook::testing::job::{Design, Gate, Job, Section, StaffRoll};
use rimbook::testing::judge::gate::{Surroundings, findings};
use rimbook::testing::practice::Practice;
use rimbook::testing::views::card::{
    CardData, fitting_card, read_aloud, second_card, whole_record,
};
use rimbook::testing::views::lines;
use rimbook::testing::views::recheck::compare;
use rimbook::testing::views::sheet::{SheetKind, Subject, sheet};
use serde_json::json;
use std::fmt::Write as _;

/// The day of the jobs.
pub fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 25).unwrap()
}

/// The jobs of the demonstration, and a pair with segments that was read.
pub fn jobs() -> Vec<Job> {
    let mut jobs = demonstration();
    let mut read = jobs
        .iter()
        .find(|j| j.lenses.powers.is_some() && j.fitting.right.cd_mm.is_some())
        .unwrap()
        .clone();
    read.lenses.design = Some(Design::Bifocal);
    for eye in [&mut read.fitting.right, &mut read.fitting.left] {
        eye.segment_height_mm = eye.height_mm;
    }
    let readings = json!({
        "right": {"sphere_d": 1, "cd_mm": 31, "height_mm": 20, "segment_height_mm": 16},
        "left": {"sphere_d": 1, "cd_mm": 31, "height_mm": 20, "segment_height_mm": 16},
    });
    read.record(Section::Readings, &readings).unwrap();
    // Too wide for straight sides, not for curved ones.
    read.record(Section::Fitting, &json!({"head_width_mm": 150}))
        .unwrap();
    read.record(Section::Frame, &json!({"front_width_mm": 140}))
        .unwrap();
    jobs.push(read);
    jobs
}

fn demonstration() -> Vec<Job> {
    files()
        .iter()
        .map(|file| {
            let mut job = resolve(file.text, today()).unwrap().job;
            let keys = job.as_object_mut().unwrap();
            keys.retain(|key, _| !["format", "version"].contains(&key.as_str()));
            serde_json::from_value(job).unwrap()
        })
        .collect()
}

/// Everything that the program says of a job.
fn said(job: &Job) -> String {
    let practice = Practice::default();
    let staff = StaffRoll::default();
    let data = CardData::of(job, &practice);
    let mut all = format!(
        "{:?}{:?}{:?}{:?}",
        fitting_card(job, "1001", &practice, 200),
        second_card(job, &[], &data, 200),
        read_aloud(job, "1001", today()),
        lines(job, &practice, today()),
    );
    // The chart shows nothing that the order does not, and its drawings take long.
    for what in [SheetKind::Tray, SheetKind::Order, SheetKind::Wearer] {
        let of = Subject {
            job,
            number: "1001",
            practice: &practice,
            today: today(),
        };
        write!(all, "{:?}", sheet(what, of).blocks).unwrap();
    }
    for gate in Gate::ALL {
        let around = Surroundings {
            sign_in: false,
            today: today(),
            staff: &staff,
            practice: &practice,
            others: &[],
            questions: &[],
        };
        write!(all, "{:?}", findings(*gate, job, around, &[], &[])).unwrap();
    }
    write!(all, "{:?}", compare(job, Some(job), &practice)).unwrap();
    all += &Bundle::new(today()).job("1001", job).unwrap_or_default();
    all
}

/// Texts that may be typed into a field.
pub fn samples(field: &Field) -> Vec<String> {
    let two = |a: &str, b: &str| vec![a.to_owned(), b.to_owned()];
    match field.kind {
        FieldKind::Text | FieldKind::Notes | FieldKind::Words | FieldKind::Staff => {
            two("Qwertz", "N48")
        }
        FieldKind::Date => two("2020-02-03", "2028-02-03"),
        FieldKind::Moment => two("2028-02-03 15:30", "2020-02-03 15:30"),
        FieldKind::Power | FieldKind::Reading => two("-11.125", "+7.25"),
        FieldKind::Addition => two("2.625", "0.75"),
        FieldKind::Prism(PrismAxis::In) => two("7 out", "7 in"),
        FieldKind::Prism(PrismAxis::Up) => two("7 down", "7 up"),
        FieldKind::Flag => two("yes", "no"),
        FieldKind::Choice(words) | FieldKind::Advice(words) => {
            words.iter().map(|w| (*w).to_owned()).collect()
        }
        FieldKind::Category => two("4", "0"),
        FieldKind::Tasks => two("Qwertz 650", "N48 380"),
        FieldKind::Material => two("resin 1.67", "resin 1.50"),
        FieldKind::Axis
        | FieldKind::Curve
        | FieldKind::PrismSize
        | FieldKind::Length
        | FieldKind::Angle
        | FieldKind::Index
        | FieldKind::Percent => {
            let (least, most) = limits(field).unwrap();
            [0.1, 0.5, 0.9]
                .map(|share| format!("{:.0}", least + (most - least) * share))
                .to_vec()
        }
    }
}

fn is_seen(field: &Field, jobs: &[(Job, String)]) -> bool {
    jobs.iter().any(|(job, before)| {
        samples(field).iter().any(|sample| {
            let Ok(value) = parse(field, sample, today()) else {
                return false;
            };
            let mut changed = job.clone();
            changed.record(field.section, &change(field, value)).is_ok()
                && show(&changed, field) != show(job, field)
                && said(&changed) != *before
        })
    })
}

#[test]
fn no_field_is_typed_and_then_seen_nowhere() {
    let jobs: Vec<(Job, String)> = jobs()
        .into_iter()
        .map(|job| {
            let before = said(&job);
            (job, before)
        })
        .collect();
    let wrong_of = |fields: &[Field]| -> Vec<&'static str> {
        let is_wrong = |field: &&Field| {
            let is_only_in_the_record = field.shown() == Shown::AlsoRecorded;
            is_seen(field, &jobs) == is_only_in_the_record
        };
        fields.iter().filter(is_wrong).map(Field::full).collect()
    };
    let (first, second) = all_fields().split_at(all_fields().len() / 2);
    let wrong = std::thread::scope(|scope| {
        let other = scope.spawn(|| wrong_of(second));
        let mut wrong = wrong_of(first);
        wrong.extend(other.join().unwrap());
        wrong
    });
    assert!(
        wrong.is_empty(),
        "seen nowhere although its row says so, or seen although its row says that only the record lists it: {wrong:#?}"
    );
}

/// The record of a job, which `show` prints.
fn record(job: &Job) -> Vec<String> {
    let data = CardData::of(job, &Practice::default());
    whole_record(job, "1001", &[], &data)
}

#[test]
fn the_whole_record_shows_every_recorded_field() {
    let before: Vec<(Job, Vec<String>)> = jobs()
        .into_iter()
        .map(|job| {
            let lines = record(&job);
            (job, lines)
        })
        .collect();
    let has_new_line = |field: &Field, job: &Job, lines: &[String], sample: &str| {
        let Ok(value) = parse(field, sample, today()) else {
            return false;
        };
        let mut changed = job.clone();
        let is_kept = changed.record(field.section, &change(field, value)).is_ok();
        let value = show(&changed, field);
        let says = |line: &String| line.contains(&value) && !lines.contains(line);
        is_kept && value != show(job, field) && record(&changed).iter().any(says)
    };
    let lacks = |field: &&Field| {
        !before.iter().any(|(job, lines)| {
            samples(field)
                .iter()
                .any(|sample| has_new_line(field, job, lines, sample))
        })
    };
    let lacking: Vec<_> = all_fields().iter().filter(lacks).map(Field::full).collect();
    assert!(lacking.is_empty(), "not in the record: {lacking:#?}");
}
