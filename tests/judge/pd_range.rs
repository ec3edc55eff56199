//! The usual total centration distance of a child, by age, and what lies too far from it.

use crate::sound_pair::{pair, staff, today};
use chrono::NaiveDate;
use rimbook::testing::job::{Gate, Job, Section, StaffRoll, read_jobs};
use rimbook::testing::judge::gate::catalogue::by_id;
use rimbook::testing::judge::gate::{
    CheckId, Compared, Context, Finding, Found, Surroundings, findings,
};
use rimbook::testing::practice::Practice;
use serde_json::{Value, json};

/// What is said of a total split evenly, for somebody born on a day, on 2026-12-01.
fn said(born: &str, total_mm: f64, practice: &Practice) -> Vec<Finding> {
    let all: Value = serde_json::from_str(include_str!("../data/scenarios.json")).unwrap();
    let mut job: Job = read_jobs(&all["scenarios"][0]["job"].to_string())
        .unwrap()
        .remove(0);
    let cd = json!({"cd_mm": total_mm / 2.0});
    job.record(Section::Wearer, &json!({ "born": born }))
        .unwrap();
    job.record(Section::Fitting, &json!({"right": cd, "left": cd}))
        .unwrap();
    let around = Surroundings {
        sign_in: false,
        today: NaiveDate::from_ymd_opt(2026, 12, 1).unwrap(),
        staff: &StaffRoll::default(),
        practice,
        others: &[],
        questions: &[],
    };
    findings(Gate::Ordered, &job, around, &[], &[])
        .into_iter()
        .filter(|f| f.check == "pd-range")
        .collect()
}

/// 42.6 + 1.78 x 5 - 0.043 x 25 = 50.425 mm at five years, 6.0 mm either way.
#[test]
fn a_child_is_questioned_beyond_six_millimetres_from_the_usual_total() {
    let practice = Practice::default();
    for (total, is_questioned) in [
        (44.2, true),
        (44.6, false),
        (50.4, false),
        (56.4, false),
        (56.6, true),
    ] {
        let list = said("2021-12-01", total, &practice);
        assert_eq!(!list.is_empty(), is_questioned, "{total}: {list:?}");
        for f in list {
            assert!(f.message.contains("a child of 5.0 years"), "{}", f.message);
            assert_eq!(f.limit.as_deref(), Some("44.4 to 56.4 mm"));
        }
    }
    let mut own = Practice::default();
    own.set("child-pd", "2").unwrap();
    assert!(!said("2021-12-01", 53.0, &own).is_empty());
}

#[test]
fn the_fraction_of_a_year_counts() {
    // Usual are 45.2 mm at one and a half years and 46.0 mm just under two.
    let practice = Practice::default();
    assert!(!said("2025-06-01", 51.4, &practice).is_empty());
    assert!(said("2024-12-10", 51.4, &practice).is_empty());
}

#[test]
fn an_eye_of_a_child_has_no_range_and_nothing_is_said_under_a_year() {
    let practice = Practice::default();
    // 23.0 mm an eye is outside an adult's range of one eye.
    assert!(said("2024-06-01", 46.0, &practice).is_empty());
    assert!(said("2026-01-01", 36.0, &practice).is_empty());
    // From sixteen on an adult's range holds: total and each eye.
    assert_eq!(said("2010-12-01", 46.0, &practice).len(), 3);
    assert_eq!(said("2010-12-02", 46.0, &practice).len(), 1);
}

#[test]
fn an_adult_is_questioned_outside_the_range_of_women_and_men() {
    let practice = Practice::default();
    for (total, is_questioned) in [(52.8, true), (53.0, false), (74.0, false), (74.2, true)] {
        let list = said("1970-01-01", total, &practice);
        assert_eq!(!list.is_empty(), is_questioned, "{total}: {list:?}");
    }
}

/// Runs the check alone: thousands of whole gates would make a slow test.
fn is_asked(job: &Job, staff: &StaffRoll, today: NaiveDate) -> bool {
    let practice = Practice::default();
    let context = Context {
        job,
        around: Surroundings {
            sign_in: false,
            today,
            staff,
            practice: &practice,
            others: &[],
            questions: &[],
        },
        acceptances: &[],
        compared: &Compared::default(),
    };
    let check = by_id(CheckId::PdRange).unwrap();
    let mut list = Vec::new();
    (check.run)(
        &context,
        &mut Found::at(check.gate, check, &practice.thresholds, &mut list),
    );
    list.iter().any(Finding::is_open)
}

#[test]
fn few_adults_of_the_open_survey_are_questioned_by_their_pupil_distance() {
    // ANSUR II (2012), public domain: 6 068 adults; see tests/data/open.
    let (mut all, mut questioned) = (0_u32, 0_u32);
    let (mut job, staff, today) = (pair(&[]), staff(), today());
    for line in include_str!("../data/open/ansur2_head.csv").lines().skip(1) {
        let pd: f64 = line.split(',').nth(2).unwrap().parse().unwrap();
        job.record(
            Section::Fitting,
            &json!({"right": {"cd_mm": pd / 2.0}, "left": {"cd_mm": pd / 2.0}}),
        )
        .unwrap();
        all += 1;
        questioned += u32::from(is_asked(&job, &staff, today));
    }
    assert_eq!(all, 6068);
    let share = f64::from(questioned) / f64::from(all);
    assert!(share < 0.03 && questioned > 0, "{questioned} of {all}");
}
