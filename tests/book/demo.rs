//! The demo book's files: readable, complete, invented, and the same for the same day.

use std::collections::BTreeSet;

use chrono::NaiveDate;
use rimbook::testing::book::demo::{DemoError, DemoJob, DemoStep, files, resolve, staff};
use rimbook::testing::job::{Job, Role, StaffRoll, Stage, read_jobs};
use serde_json::Value;

fn day() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 25).unwrap()
}

fn all(today: NaiveDate) -> Vec<(DemoJob, Job)> {
    files()
        .iter()
        .map(|file| {
            let demo = resolve(file.text, today).unwrap_or_else(|e| panic!("{}: {e}", file.name));
            let job = read_jobs(&demo.job.to_string())
                .unwrap_or_else(|e| panic!("{}: {e}", file.name))
                .remove(0);
            (demo, job)
        })
        .collect()
}

fn names(list: &str) -> BTreeSet<String> {
    let names: Value = serde_json::from_str(include_str!("../../demo-db/names.json")).unwrap();
    serde_json::from_value(names[list].clone()).unwrap()
}

#[test]
fn every_file_on_disk_is_embedded() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/demo-db/jobs");
    let on_disk: BTreeSet<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    let embedded: BTreeSet<String> = files().iter().map(|f| f.name.to_owned()).collect();
    assert_eq!(on_disk, embedded);
}

#[test]
fn every_file_is_a_job_file_once_its_dates_are_resolved() {
    let jobs = all(day());
    let past = jobs.iter().filter(|(_, job)| job.is_past()).count();
    assert!(past >= 12, "{past} past jobs");
    assert!(jobs.len() - past >= 8, "{} open jobs", jobs.len() - past);
    for (demo, job) in &jobs {
        assert!(!demo.about.is_empty());
        assert!(!demo.job.to_string().contains("today"), "{}", demo.about);
        if job.is_past() {
            assert_eq!(job.stage(), Stage::Collected);
            assert!(
                demo.steps.is_empty(),
                "a past job went through no gate here"
            );
            assert!(job.number.is_some() && job.handover.given_on.is_some());
        } else {
            assert_eq!((job.stage, job.number.as_deref()), (None, None));
        }
    }
}

#[test]
fn a_date_moves_with_the_day_and_nothing_else_does() {
    let other = NaiveDate::from_ymd_opt(2028, 2, 29).unwrap();
    assert_eq!(all(day()), all(day()));
    assert_ne!(all(day()), all(other));
    let with = |date: &str| {
        resolve(
            &format!(r#"{{"about":"x","steps":[],"job":{{"d":"{date}"}}}}"#),
            other,
        )
        .map(|demo| demo.job["d"].as_str().unwrap().to_owned())
    };
    for (relative, absolute) in [
        ("today", "2028-02-29"),
        ("today-1", "2028-02-28"),
        ("today+1", "2028-03-01"),
        ("today-366", "2027-02-28"),
        ("today+0T15:30", "2028-02-29T15:30"),
        ("today he came late", "today he came late"),
    ] {
        assert_eq!(with(relative).unwrap(), absolute);
    }
    for bad in ["today+", "today-x", "today+0T25:00", "today+99999999999999"] {
        assert_eq!(with(bad), Err(DemoError::Date(bad.to_owned())));
    }
}

#[test]
fn only_invented_names_appear() {
    let (wearers, frames, laboratories) =
        (names("wearers"), names("frames"), names("laboratories"));
    for (demo, job) in all(day()) {
        let name = job.wearer.name.unwrap();
        assert!(wearers.contains(&name), "{name}");
        assert!(frames.contains(&job.frame.name.unwrap()), "{}", demo.about);
        assert!(
            laboratories.contains(&job.order.laboratory.unwrap()),
            "{}",
            demo.about
        );
        // 0000 is no area code: nobody's telephone rings.
        assert!(job.wearer.phone.unwrap().starts_with("0000 "));
    }
}

#[test]
fn only_people_of_the_practice_act() {
    let people = staff().unwrap();
    assert_eq!(
        people.iter().map(|m| m.role).collect::<Vec<_>>(),
        Role::ALL,
        "one of each role"
    );
    let listed: BTreeSet<String> = people.iter().map(|m| m.name.clone()).collect();
    assert_eq!(listed, names("staff"));
    let roll = StaffRoll(people);
    for (demo, job) in all(day()) {
        for step in &demo.steps {
            let by = match step {
                DemoStep::Advance(s) => &s.by,
                DemoStep::Accept(s) => &s.by,
                DemoStep::Record(s) => &s.by,
                DemoStep::SendBack(s) => &s.by,
                DemoStep::Ask(s) => &s.by,
                DemoStep::Repair(s) => &s.by,
                DemoStep::Recheck(s) => &s.by,
            };
            assert!(roll.find(by).is_some(), "{by}");
        }
        for by in [job.fitting.taken_by, job.prescription.prescriber] {
            assert!(roll.find(&by.unwrap()).is_some());
        }
    }
}

#[test]
fn what_is_recorded_later_fits_its_section() {
    for (demo, mut job) in all(day()) {
        for step in demo.steps {
            if let DemoStep::Record(step) = step {
                job.record(step.record, &step.value).unwrap();
            }
        }
    }
}

#[test]
fn a_surname_is_shared_and_a_past_wearer_has_an_open_job() {
    let jobs = all(day());
    let of = |past: bool| {
        jobs.iter()
            .filter(move |(_, job)| job.is_past() == past)
            .map(|(_, job)| job.wearer.name.clone().unwrap())
    };
    let surnames: Vec<String> = of(true)
        .map(|n| n.rsplit(' ').next().unwrap().to_owned())
        .collect();
    let distinct: BTreeSet<&String> = surnames.iter().collect();
    assert!(distinct.len() < surnames.len());
    let open: BTreeSet<String> = of(false).collect();
    assert!(of(true).any(|name| open.contains(&name)));
}
