//! The rule that says when records are due for review, at its edges.

use chrono::{Datelike, Days, NaiveDate};
use proptest::prelude::*;
use rimbook::testing::job::retention::{Retention, Why, last_seen};
use rimbook::testing::job::{Job, whole_years};

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn due(born: &str, seen: &str) -> (String, Why) {
    let born = (!born.is_empty()).then(|| day(born));
    let due = Retention::default().due(born, day(seen));
    (due.on.to_string(), due.why)
}

#[test]
fn the_default_rule_at_its_edges() {
    for (born, seen, on, why) in [
        ("1970-05-01", "2016-11-25", "2026-11-25", Why::Adult),
        ("", "2016-11-25", "2026-11-25", Why::BirthUnknown),
        // Six years old: the birthday is later.
        ("2010-07-09", "2016-11-25", "2035-07-09", Why::ChildBirthday),
        // Fifteen on the day: both end together, a day younger, and the birthday is later.
        ("2001-11-25", "2016-11-25", "2026-11-25", Why::ChildYears),
        ("2001-11-26", "2016-11-25", "2026-11-26", Why::ChildBirthday),
        ("2001-11-24", "2016-11-25", "2026-11-25", Why::ChildYears),
        // The eighteenth birthday is the first day as an adult.
        ("1998-11-26", "2016-11-25", "2026-11-25", Why::ChildYears),
        ("1998-11-25", "2016-11-25", "2026-11-25", Why::Adult),
        // Born on 29 February: 25 on 1 March 2029; 18 on 1 March 2022, not the day before.
        ("2004-02-29", "2010-01-01", "2029-03-01", Why::ChildBirthday),
        ("2004-02-29", "2022-02-28", "2032-02-28", Why::ChildYears),
        ("2004-02-29", "2022-03-01", "2032-03-01", Why::Adult),
        // Last seen on 29 February.
        ("1970-05-01", "2016-02-29", "2026-03-01", Why::Adult),
    ] {
        assert_eq!(due(born, seen), (on.to_owned(), why), "{born} {seen}");
    }
}

#[test]
fn a_shorter_rule_for_adults_does_not_keep_them_as_children() {
    let rule = Retention {
        adult_years: 3,
        child_until_age: 25,
    };
    let twenty = rule.due(Some(day("1996-01-01")), day("2016-06-01"));
    assert_eq!((twenty.on, twenty.why), (day("2019-06-01"), Why::Adult));
    let seventeen = rule.due(Some(day("1999-01-01")), day("2016-06-01"));
    assert_eq!(
        (seventeen.on, seventeen.why),
        (day("2024-01-01"), Why::ChildBirthday)
    );
}

#[test]
fn the_last_day_of_the_calendar_is_no_panic() {
    let rule = Retention {
        adult_years: u16::MAX,
        child_until_age: u16::MAX,
    };
    let due = rule.due(Some(NaiveDate::MAX), NaiveDate::MAX);
    assert_eq!(due.on, NaiveDate::MAX);
}

#[test]
fn a_day_ahead_is_no_day_on_which_anybody_was_seen() {
    let mut job = Job::default();
    assert_eq!(last_seen(&job, day("2026-11-25")), None);
    job.prescription.tested_on = Some(day("2020-03-01"));
    job.fitting.taken_on = Some(day("2020-03-04"));
    job.handover.given_on = Some(day("2206-03-20"));
    assert_eq!(last_seen(&job, day("2026-11-25")), Some(day("2020-03-04")));
    job.handover.given_on = Some(day("2026-11-25"));
    assert_eq!(last_seen(&job, day("2026-11-25")), Some(day("2026-11-25")));
}

/// Any day of two centuries.
fn any_day() -> impl Strategy<Value = NaiveDate> {
    (0_u64..73_000).prop_map(|n| day("1900-01-01") + Days::new(n))
}

proptest! {
    #[test]
    fn nothing_is_due_before_the_years_have_gone_by(born in proptest::option::of(any_day()), seen in any_day(), years in 1_u16..=100, age in 18_u16..=100) {
        let rule = Retention { adult_years: years, child_until_age: age };
        let due = rule.due(born, seen);
        prop_assert!(whole_years(seen, due.on) >= i32::from(years));
        // Nor later than it must be: on the day before, one of the two was still running.
        let eve = due.on.pred_opt().unwrap();
        let years_run = whole_years(seen, eve) < i32::from(years);
        let is_child = born.is_some_and(|b| whole_years(b, seen) < 18);
        let is_young = born.is_some_and(|b| whole_years(b, eve) < i32::from(age));
        prop_assert!(years_run || (is_child && is_young));
        if is_child {
            prop_assert!(whole_years(born.unwrap(), due.on) >= i32::from(age));
        }
        prop_assert_eq!(due.why == Why::BirthUnknown, born.is_none());
    }

    #[test]
    fn being_seen_later_never_makes_records_due_earlier(born in proptest::option::of(any_day()), seen in any_day(), later in 0_u64..20_000) {
        // With the default, where ten years end after the 25th birthday of every adult.
        let rule = Retention::default();
        let again = seen + Days::new(later);
        prop_assert!(rule.due(born, again).on >= rule.due(born, seen).on);
    }

    #[test]
    fn the_due_day_is_the_same_day_of_the_year(seen in any_day()) {
        let due = Retention::default().due(None, seen).on;
        let leap = (seen.month(), seen.day()) == (2, 29);
        prop_assert!(leap || (due.month(), due.day()) == (seen.month(), seen.day()));
    }
}
