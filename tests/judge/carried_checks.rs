//! What holds an order that rests on values of another job: another frame, a child that has grown,
//! answers of long ago. Common practice; persons, frames and laboratories are invented.

use crate::carried_book::{begun, day, findings, old};
use rimbook::testing::job::{Aftercare, Handover, Reason, Section};
use rimbook::testing::judge::rules::carry::{begin, origin_words};
use rimbook::testing::practice::Practice;
use serde_json::{Value, json};

#[test]
fn a_value_of_another_frame_holds_the_order_until_it_is_measured_or_the_frame_is_the_same() {
    let mut job = begun(&old(), Reason::Reglaze, "2026-11-25").job;
    assert_eq!(findings("carried-foreign", &job, "2026-11-25"), [""; 0]);
    job.record(Section::Frame, &json!({"name": "Oval 2"}))
        .unwrap();
    let said = findings("carried-foreign", &job, "2026-11-25");
    assert_eq!(said.len(), 1);
    assert!(
        said[0].contains("taken in Fernley 50, this frame is Oval 2"),
        "{said:?}"
    );
    assert!(
        said[0].contains("right height 18.5") && !said[0].contains("cd"),
        "{said:?}"
    );
    job.record(
        Section::Fitting,
        &json!({"right": {"height_mm": 20, "vertex_mm": 12}, "left": {"height_mm": 20, "vertex_mm": 12},
            "pantoscopic_deg": 7, "face_form_deg": 4}),
    )
    .unwrap();
    assert_eq!(findings("carried-foreign", &job, "2026-11-25"), [""; 0]);
    let mut same = begun(&old(), Reason::Reglaze, "2026-11-25").job;
    same.record(Section::Frame, &json!({"name": " FERNLEY 50"}))
        .unwrap();
    assert_eq!(findings("carried-foreign", &same, "2026-11-25"), [""; 0]);
}

#[test]
fn a_frame_of_the_same_name_in_another_size_is_another_frame() {
    // The frame of the pair: a 50, b 38, dbl 18 (invented).
    let with = |change: &Value| {
        let mut job = begun(&old(), Reason::Reglaze, "2026-11-25").job;
        job.record(Section::Frame, change).unwrap();
        findings("carried-foreign", &job, "2026-11-25")
    };
    let (a, b, dbl) = (old().frame.a_mm, old().frame.b_mm, old().frame.dbl_mm);
    let [a, b, dbl] = [a, b, dbl].map(|mm| mm.unwrap().get());
    for same in [
        json!({"a_mm": a, "b_mm": b, "dbl_mm": dbl}),
        json!({"a_mm": a + 0.99, "b_mm": b - 0.99}),
        json!({"name": "fernley 50 "}),
        json!({"a_mm": null, "b_mm": null, "dbl_mm": null}),
    ] {
        assert_eq!(with(&same), [""; 0], "{same}");
    }
    for other in [
        json!({"a_mm": a + 1.0}),
        json!({"b_mm": b - 1.0}),
        json!({"dbl_mm": dbl + 2.0}),
        json!({"name": "FERNLEY 50", "a_mm": a + 2.0}),
    ] {
        assert_eq!(with(&other).len(), 1, "{other}");
    }
    let said = with(&json!({"a_mm": a + 2.0}));
    let (then, now) = (
        format!("Fernley 50 (a {a:.1}, b"),
        format!("Fernley 50 (a {:.1}, b", a + 2.0),
    );
    assert!(
        said[0].contains(&then) && said[0].contains(&now),
        "{said:?}"
    );

    // Without any name the sizes alone tell.
    let mut nameless = old();
    nameless.frame.name = None;
    let mut job = begun(&nameless, Reason::Reglaze, "2026-11-25").job;
    assert_eq!(findings("carried-foreign", &job, "2026-11-25"), [""; 0]);
    job.record(Section::Frame, &json!({"a_mm": a - 2.0}))
        .unwrap();
    let said = findings("carried-foreign", &job, "2026-11-25");
    assert!(
        said[0].contains("taken in a frame without a name (a"),
        "{said:?}"
    );

    // An origin of before sizes were kept with it tells by its name alone.
    let mut job = begun(&old(), Reason::Reglaze, "2026-11-25").job;
    for origin in job.origins.values_mut() {
        (origin.frame_a_mm, origin.frame_b_mm, origin.frame_dbl_mm) = (None, None, None);
    }
    job.record(Section::Frame, &json!({"a_mm": a + 2.0}))
        .unwrap();
    assert_eq!(findings("carried-foreign", &job, "2026-11-25"), [""; 0]);
}

#[test]
fn a_childs_carried_distance_holds_the_order_after_six_months() {
    let mut old = old();
    old.wearer.born = Some(day("2012-06-01"));
    old.handover = Handover::default();
    old.aftercare = Aftercare::default();
    let mut job = begun(&old, Reason::SecondPair, "2027-01-12").job;
    assert_eq!(
        findings("carried-stale", &job, "2027-04-12"),
        [""; 0],
        "on the limit"
    );
    let said = findings("carried-stale", &job, "2027-04-13");
    assert_eq!(said.len(), 1);
    assert!(
        said[0].contains("measured on 2026-10-12, more than 6 months ago"),
        "{said:?}"
    );
    assert!(said[0].contains("right cd 31.5"), "{said:?}");
    assert_eq!(
        findings("carried-stale", &job, "2028-06-01"),
        [""; 0],
        "16 on that day"
    );
    let none = json!({"right": null, "left": null, "binocular_pd_mm": null, "head_width_mm": null, "second_reading": null});
    job.record(Section::Fitting, &none).unwrap();
    assert_eq!(
        findings("carried-stale", &job, "2027-04-13"),
        [""; 0],
        "nothing carried is left"
    );
}

#[test]
fn what_the_wearer_was_asked_long_ago_holds_the_order_until_it_is_asked_again() {
    let mut old = old();
    old.wearer.allergies = Some(vec![]);
    old.wearer.drives = Some(true);
    old.wearer.one_eyed = Some(false);
    old.wearer.sight_impaired = None;
    old.wearer.notes = Some("likes small frames".to_owned());
    let mut job = begun(&old, Reason::SecondPair, "2027-10-01").job;
    let origin = &job.origins["wearer.allergies"];
    assert_eq!(
        origin_words(origin),
        "from 1003, 2026-10-12, asked by Ines Calloway"
    );
    assert!(job.origins.contains_key("wearer.notes"));
    // Asked on 2026-10-12: twelve months to the day are not more than twelve months.
    assert_eq!(findings("carried-answers", &job, "2027-10-12"), [""; 0]);
    assert_eq!(
        findings("carried-answers", &job, "2027-10-13"),
        [
            "allergies (none known), one-eyed (no), drives (yes): last asked on 2026-10-12, more than 12 months ago; ask again"
        ]
    );
    // Asked again, with the same answer.
    job.record(Section::Wearer, &json!({"allergies": [], "drives": true}))
        .unwrap();
    let said = findings("carried-answers", &job, "2027-10-13");
    assert!(
        said[0].starts_with("one-eyed (no): last asked on"),
        "{said:?}"
    );
    job.record(Section::Wearer, &json!({"one_eyed": null}))
        .unwrap();
    assert_eq!(findings("carried-answers", &job, "2027-10-13"), [""; 0]);

    let unknown = json!({"wearer.allergies": {"job": "1003"}});
    job.record(Section::Origins, &unknown).unwrap();
    let said = findings("carried-answers", &job, "2027-10-13");
    assert!(
        said[0].contains("on a day that is not recorded"),
        "{said:?}"
    );
    job.reason = Some(Reason::Recheck);
    assert_eq!(
        findings("carried-answers", &job, "2027-10-13"),
        [""; 0],
        "no order rests on a recheck"
    );
    // What was carried twice is as old as its first answer; a job without origins says nothing.
    let first = begun(&old, Reason::SecondPair, "2027-06-01").job;
    let practice = Practice::default();
    let second = begin(&first, "1010", Reason::Remake, day("2027-11-01"), &practice).unwrap();
    assert_eq!(
        findings("carried-answers", &second.job, "2027-11-01").len(),
        1
    );
    assert_eq!(findings("carried-answers", &old, "2037-11-01"), [""; 0]);
}

/// Copied from the other eye, a height is still one of the frame that it was measured in.
#[test]
fn a_copy_of_a_value_of_another_frame_is_of_that_frame_too() {
    let mut job = begun(&old(), Reason::Reglaze, "2026-11-25").job;
    job.record(Section::Frame, &json!({"name": "Oval 2"}))
        .unwrap();
    let said = findings("carried-foreign", &job, "2026-11-25");
    let right = job.value_at("fitting.right.height_mm").unwrap();
    job.record(Section::Fitting, &json!({"left": {"height_mm": right}}))
        .unwrap();
    job.take_over_origin("fitting.right.height_mm", "fitting.left.height_mm");
    let of = |eye: &str| job.origins.get(&format!("fitting.{eye}.height_mm"));
    assert!(of("left").is_some() && of("left") == of("right"));
    let copied = findings("carried-foreign", &job, "2026-11-25");
    assert_eq!(copied.len(), said.len());
    assert!(copied[0].contains("left height"), "{copied:?}");
    // Measured here on one side, it is this job's own on the other.
    job.record(Section::Fitting, &json!({"right": {"height_mm": 20}}))
        .unwrap();
    job.record(Section::Fitting, &json!({"left": {"height_mm": 20}}))
        .unwrap();
    job.take_over_origin("fitting.right.height_mm", "fitting.left.height_mm");
    let copied = findings("carried-foreign", &job, "2026-11-25");
    assert!(!copied[0].contains("height"), "{copied:?}");
}
