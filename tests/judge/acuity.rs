//! Distance acuity with the finished pair against the sight test, in every usual notation.
//!
//! A line is 0.1 logMAR: Bailey and Lovie 1976, from memory. That two lines matter is common practice.

use crate::driver;

use crate::carried_book::old;
use proptest::prelude::*;
use rimbook::testing::job::{Section, StaffRoll};
use rimbook::testing::judge::gate::catalogue;
use rimbook::testing::judge::gate::{Compared, Context, Finding, Found, Severity, Surroundings};
use rimbook::testing::practice::Practice;
use rimbook::testing::practice::Threshold;
use rimbook::testing::trade::notation::{LINE_LOG_MAR, best_log_mar};
use serde_json::{Value, json};

fn found_by(practice: &Practice, right: &str, left: &str, now: &str) -> Vec<Finding> {
    let or_none = |text: &str| {
        if text.is_empty() {
            Value::Null
        } else {
            json!(text)
        }
    };
    let mut job = old();
    let tested = json!({"right": {"acuity": or_none(right)}, "left": {"acuity": or_none(left)}});
    job.record(Section::Prescription, &tested).unwrap();
    let now = json!({"distance_acuity": or_none(now)});
    job.record(Section::Handover, &now).unwrap();
    let staff = StaffRoll::default();
    let context = Context {
        job: &job,
        around: Surroundings {
            sign_in: false,
            today: driver::today(),
            staff: &staff,
            practice,
            others: &[],
            questions: &[],
        },
        acceptances: &[],
        compared: &Compared::default(),
    };
    let check = catalogue::by_id(rimbook::testing::judge::gate::CheckId::AcuityWorse).unwrap();
    let mut list = Vec::new();
    (check.run)(
        &context,
        &mut Found::at(check.gate, check, &practice.thresholds, &mut list),
    );
    list
}

fn found(right: &str, left: &str, now: &str) -> Vec<Finding> {
    found_by(&Practice::default(), right, left, now)
}

#[test]
fn two_lines_down_hold_in_every_notation_and_one_does_not() {
    for (right, left, now, holds) in [
        ("6/6", "6/12", "6/9", true),
        ("6/6", "", "6/7.5", false),
        ("6/12", "6/6", "R 6/12 L 6/7.5", false),
        ("20/20", "20/25", "20/30", true),
        ("20/20", "", "20/25", false),
        ("1.0", "0.8", "0.63", true),
        ("1,0", "", "0,8", false),
        ("1.25", "", "0.8", true),
        ("logMAR 0.0", "", "logMAR 0.2", true),
        ("0.0 logMAR", "", "0.1 logMAR", false),
        // Each as its practice writes it.
        ("6/6", "", "0.8", false),
        ("6/6", "", "0.63", true),
        ("20/20", "", "logMAR 0.20", true),
        ("logMAR 0.3", "", "6/12", false),
        // Better than at the sight test.
        ("6/9", "6/9", "6/5", false),
        // Through a pinhole is not with the pair.
        ("6/6", "", "6/18 PH 6/6", true),
        ("6/18 pinhole 6/6", "", "6/18", false),
        // Letters count as fifths of a line.
        ("6/6", "", "6/7.5-2", false),
        ("6/6", "", "6/7.5-3", true),
        ("6/6-1", "", "6/9+3", false),
        ("3/60", "", "1/60", true),
    ] {
        let list = found(right, left, now);
        let warned: Vec<_> = list
            .iter()
            .filter(|f| f.severity == Severity::Warning)
            .collect();
        assert_eq!(warned.len() == 1, holds, "{right}, {left}, {now}: {list:?}");
        assert_eq!(list.len(), warned.len(), "{list:?}");
    }
    let said = found("6/6", "6/12", "6/12");
    assert_eq!(
        said[0].message,
        "distance acuity 6/12 is 3 lines below the better eye's at the sight test (0.00 then, 0.30 logMAR now)"
    );
}

#[test]
fn what_could_not_be_read_as_a_number_is_said_and_holds_nothing() {
    for (right, now, which) in [
        ("6/6", "good", "with the pair, \"good\""),
        (
            "counts fingers",
            "6/60",
            "at the sight test, \"counts fingers\"",
        ),
        ("6/6", "-0.1", "with the pair"),
        ("6/6", "N5", "with the pair"),
        ("6/6", "PH 6/6", "with the pair"),
        ("6/6 p/h", "6/6", "at the sight test"),
    ] {
        let list = found(right, "", now);
        assert_eq!(list.len(), 1, "{right}, {now}");
        assert_eq!(list[0].severity, Severity::Note);
        assert!(!list[0].is_open(), "a note holds nothing");
        let said = &list[0].message;
        assert!(
            said.contains(which) && said.contains("could not be read as a number"),
            "{said}"
        );
        assert!(said.contains("write it as 6/9, 20/30, 0.8 or logMAR 0.1"));
    }
    // Two lines down, if it were logMAR: read as decimals it is better, and that is said.
    let list = found("0.1", "", "0.3");
    assert_eq!(list.len(), 1);
    assert_eq!(list[0].severity, Severity::Note);
    let said = &list[0].message;
    assert!(said.contains("\"0.1\" was read as a decimal"), "{said}");
    // With one of the two eyes read there is something to compare with.
    assert_eq!(found("counts fingers", "6/6", "6/6"), []);
    // Nothing to compare with is nothing to say.
    assert_eq!(found("", "", "good"), []);
    assert_eq!(found("6/6", "", ""), []);
}

#[test]
fn a_practice_sets_its_own_lines() {
    let mut practice = Practice::default();
    practice.thresholds.set(Threshold::AcuityLines, 3.0);
    let of = |now: &str| found_by(&practice, "6/6", "", now).len();
    assert_eq!((of("6/9"), of("6/12")), (0, 1));
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]

    #[test]
    fn whatever_is_written_is_a_sound_number_or_none(text in "\\PC{0,40}|[0-9/.,+−–rlodRE logmarLMPH-]{0,24}") {
        if let Some(read) = best_log_mar(&text) {
            prop_assert!(read.is_finite() && (-2.0..=3.5).contains(&read), "{text}: {read}");
        }
    }

    #[test]
    fn smaller_letters_are_never_worse_and_feet_are_metres(read in 30..1200_i32, more in 0..600_i32) {
        let tenths = |n: i32| f64::from(n) / 10.0;
        let of = |n: i32| best_log_mar(&format!("6/{:.1}", tenths(n))).unwrap();
        prop_assert!(of(read) <= of(read + more));
        let feet = best_log_mar(&format!("20/{:.3}", tenths(read) / 0.3)).unwrap();
        prop_assert!((of(read) - feet).abs() < LINE_LOG_MAR / 100.0, "{read}");
        let log = best_log_mar(&format!("logMAR {:.3}", of(read)));
        prop_assert!((log.unwrap() - of(read)).abs() < LINE_LOG_MAR / 100.0);
    }
}
