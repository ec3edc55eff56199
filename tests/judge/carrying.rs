//! A job begun from an earlier one: what is carried, what is only shown, and the checks of both.
//!
//! `tests/data/scenarios.json`: people, frames and laboratories are invented.

use crate::carried_book::{begun, collected, day, mm, old};
use crate::driver::{Driver, clock};
use rimbook::testing::book::desk::{Desk, ErrorKind};
use rimbook::testing::job::{Aftercare, Handover, Job, Readings, Reason, Section, Stage, TakenAs};
use rimbook::testing::judge::rules::carry::{Begun, begin, origin_words};
use rimbook::testing::practice::{Practice, Threshold};
use serde_json::{Value, json};

fn why<'a>(begun: &'a Begun, path: &str) -> &'a str {
    let left = begun.not_carried.iter().find(|l| l.path == path);
    left.map_or("", |l| &l.why)
}

#[test]
fn a_second_pair_takes_prescription_and_pupil_distances_and_nothing_of_the_frame() {
    let old = old();
    let new = begun(&old, Reason::SecondPair, "2026-11-25");
    let job = &new.job;
    assert_eq!(job.wearer, old.wearer);
    assert_eq!(job.prescription, old.prescription);
    assert_eq!(job.fitting.right.cd_mm, old.fitting.right.cd_mm);
    assert_eq!(job.fitting.head_width_mm, old.fitting.head_width_mm);
    for path in [
        "fitting.right.height_mm",
        "fitting.left.vertex_mm",
        "fitting.pantoscopic_deg",
        "fitting.face_form_deg",
    ] {
        assert_eq!(job.value_at(path), None, "{path}");
        assert!(
            why(&new, path).contains("belong to their frame; measure again"),
            "{path}"
        );
        assert!(!job.origins.contains_key(path), "{path}");
    }
    assert!(why(&new, "frame.name").contains("1003"));
    assert!(why(&new, "fitting.centration").contains("how the distances stand to this one"));
    assert_eq!((job.frame.clone(), job.lenses.clone()), Default::default());
    assert_eq!(
        job.fitting.taken_by, None,
        "nobody has measured for this job yet"
    );
    let origin = &job.origins["fitting.right.cd_mm"];
    assert_eq!(
        origin_words(origin),
        "from 1003, 2026-10-12, measured by Ines Calloway with pupil gauge, in frame Fernley 50"
    );
    assert_eq!(
        job.origins["prescription.right.sphere_d"].on,
        Some(day("2026-10-06"))
    );
    assert!(job.origins.keys().all(|p| job.value_at(p).is_some()));
    // Who it is needs no origin; what was answered does.
    let answers: Vec<&str> = job
        .origins
        .keys()
        .filter_map(|p| p.strip_prefix("wearer."))
        .collect();
    assert_eq!(
        answers,
        ["allergies", "drives", "one_eyed", "sight_impaired"]
    );
}

#[test]
fn in_the_same_frame_the_pair_is_carried_as_it_stands_now() {
    let old = old();
    for reason in [Reason::Reglaze, Reason::Replacement, Reason::Remake] {
        let new = begun(&old, reason, "2026-11-25");
        let job = &new.job;
        assert_eq!(mm(job, "fitting.right.height_mm"), Some(185), "{reason}");
        assert_eq!(mm(job, "fitting.right.vertex_mm"), Some(130), "{reason}");
        assert_eq!(mm(job, "fitting.right.length_to_bend_mm"), Some(940));
        assert_eq!(mm(job, "fitting.left.length_to_bend_mm"), Some(960));
        assert_eq!(mm(job, "fitting.face_form_deg"), Some(40), "as measured");
        let bend = &job.origins["fitting.right.length_to_bend_mm"];
        assert_eq!(
            (bend.taken_as, bend.on),
            (Some(TakenAs::Adjusted), Some(day("2026-11-02")))
        );
        let height = &job.origins["fitting.right.height_mm"];
        assert_eq!(
            (height.taken_as, height.by.as_deref()),
            (Some(TakenAs::HandedOver), Some("Hugo Penrith"))
        );
        // A second reading of a value that was set since is a reading of something else.
        assert_eq!(job.value_at("fitting.second_reading.right.height_mm"), None);
        assert_eq!(mm(job, "fitting.second_reading.right.cd_mm"), Some(315));
        assert_eq!(job.frame.name, old.frame.name);
        assert_eq!(
            job.frame.condition, None,
            "{reason}: the frame is looked at as it is now"
        );
        assert!(why(&new, "frame.condition").contains("as it is now"));
        assert_eq!(job.lenses.design, old.lenses.design);
        assert_eq!(
            (job.order.clone(), job.handover.clone()),
            Default::default()
        );
        assert_eq!(job.readings, Readings::default());
        assert_eq!(job.aftercare, Aftercare::default());
    }
    let own = begun(&old, Reason::Reglaze, "2026-11-25").job.frame;
    assert_eq!(own.owned_by_wearer, Some(true));
}

#[test]
fn a_recheck_carries_everything_as_it_was_measured() {
    let old = old();
    let new = begun(&old, Reason::Recheck, "2031-01-01");
    assert_eq!(new.not_carried, []);
    assert_eq!(new.job.fitting, old.fitting);
    assert_eq!(new.job.frame, old.frame);
    assert_eq!(new.job.lenses, old.lenses);
    assert_eq!(new.job.prescription, old.prescription);
    assert!(new.job.origins.contains_key("fitting.right.height_mm"));
}

#[test]
fn a_prescription_is_carried_to_its_last_day_and_no_further() {
    let mut old = old();
    let carried = |old: &Job, today| {
        begun(old, Reason::SecondPair, today)
            .job
            .prescription
            .right
            .sphere_d
            .is_some()
    };
    // Tested on 2026-10-06; 24 months unless the prescriber gave a day.
    assert!(carried(&old, "2028-10-06"));
    assert!(!carried(&old, "2028-10-07"));
    old.prescription.expires_on = Some(day("2027-04-06"));
    assert!(carried(&old, "2027-04-06"));
    assert!(!carried(&old, "2027-04-07"));
    let late = begun(&old, Reason::Reglaze, "2027-04-07");
    assert!(why(&late, "prescription.right.sphere_d").contains("valid until 2027-04-06"));
    assert!(
        late.job.lenses.powers.is_none(),
        "powers rest on the prescription"
    );
}

#[test]
fn a_childs_measurements_are_carried_for_six_months() {
    let mut old = old();
    old.aftercare = Aftercare::default();
    old.handover = Handover::default();
    let carried = |old: &Job, today| {
        begun(old, Reason::SecondPair, today)
            .job
            .fitting
            .right
            .cd_mm
            .is_some()
    };
    old.wearer.born = Some(day("2012-06-01"));
    // Measured on 2026-10-12.
    assert!(carried(&old, "2027-04-12"));
    assert!(!carried(&old, "2027-04-13"));
    // 16 on the day: grown up.
    assert!(carried(&old, "2028-06-01"));
    assert!(!carried(&old, "2028-05-31"));
    old.fitting.taken_on = None;
    assert!(
        !carried(&old, "2026-10-13"),
        "no day, no trust in a child's value"
    );
    old.wearer.born = None;
    assert!(carried(&old, "2030-01-01"), "an adult's distances stay");
}

#[test]
fn a_practice_sets_its_own_months_for_a_child() {
    let mut old = old();
    old.wearer.born = Some(day("2018-06-01"));
    let mut practice = Practice::default();
    practice.thresholds.set(Threshold::ChildMonths, 3.0);
    let of = |today: &str| begin(&old, "1003", Reason::SecondPair, day(today), &practice).unwrap();
    assert!(of("2027-01-12").job.fitting.right.cd_mm.is_some());
    assert!(of("2027-01-13").job.fitting.right.cd_mm.is_none());
}

#[test]
fn what_was_carried_twice_still_says_where_it_was_measured() {
    let first = begun(&old(), Reason::SecondPair, "2026-11-25").job;
    let second = begin(
        &first,
        "1010",
        Reason::Remake,
        day("2027-01-01"),
        &Practice::default(),
    )
    .unwrap();
    let origin = &second.job.origins["fitting.right.cd_mm"];
    assert_eq!(
        (origin.job.as_deref(), origin.on),
        (Some("1003"), Some(day("2026-10-12")))
    );
    assert_eq!(second.job.linked_to.as_deref(), Some("1010"));
}

#[test]
fn a_value_typed_anew_is_this_jobs_own_even_when_it_came_out_the_same() {
    let mut job = begun(&old(), Reason::Reglaze, "2026-11-25").job;
    let known = job.origins.len();
    job.record(Section::Fitting, &json!({"right": {"cd_mm": 31.5}}))
        .unwrap();
    assert!(!job.origins.contains_key("fitting.right.cd_mm"));
    assert_eq!(job.origins.len(), known - 1, "and no other");
    job.record(Section::Fitting, &json!({"left": null}))
        .unwrap();
    assert!(!job.origins.keys().any(|p| p.starts_with("fitting.left.")));
    assert!(
        job.origins
            .contains_key("fitting.second_reading.right.cd_mm")
    );
    let before = job.clone();
    assert!(
        job.record(Section::Fitting, &json!({"right": {"cd_mm": "x"}}))
            .is_err()
    );
    assert_eq!(job, before, "what is refused ends nothing");
}

#[test]
fn both_jobs_know_of_each_other_or_neither_is_changed() {
    let driver = Driver::with(&[collected()]);
    let mut desk = Desk::open(&driver.path, clock()).unwrap();
    let new = desk
        .begin_from("1003", Reason::SecondPair, "Ines Calloway")
        .unwrap();
    assert_eq!(new.job.linked_to.as_deref(), Some("1003"));
    assert_eq!(
        (new.job.stage(), new.job.reason),
        (Stage::Measured, Some(Reason::SecondPair))
    );
    let last = |desk: &Desk, number: &str| desk.history(number).unwrap().pop().unwrap();
    assert_eq!(last(&desk, "1003").what, "second pair begun");
    assert_eq!(last(&desk, "1003").detail["new_job"], *new.number);
    assert_eq!(
        last(&desk, &new.number).by.as_deref(),
        Some("Ines Calloway")
    );
    let left = desk.not_carried(&new).unwrap();
    assert!(left.iter().any(|l| l.path == "fitting.right.height_mm"));
    let taken = desk
        .record(
            &new.number,
            Section::Fitting,
            &json!({"right": {"height_mm": 20}}),
            None,
            Some("Ines Calloway"),
        )
        .unwrap();
    let left = desk.not_carried(&taken).unwrap();
    assert!(!left.iter().any(|l| l.path == "fitting.right.height_mm"));
    let jobs = desk.numbers().unwrap().len();
    for (number, reason) in [
        ("1003", Reason::New),
        (new.number.as_str(), Reason::Reglaze),
    ] {
        let error = desk
            .begin_from(number, reason, "Ines Calloway")
            .unwrap_err();
        assert_eq!(error.kind, ErrorKind::Refused, "{reason}");
    }
    desk.cancel(&new.number, "Ines Calloway", "changed her mind")
        .unwrap();
    assert!(
        desk.begin_from(&new.number, Reason::SecondPair, "Ines Calloway")
            .is_err()
    );
    assert_eq!(desk.numbers().unwrap().len(), jobs);
}

#[test]
fn an_open_recheck_holds_what_was_measured_so_no_job_is_begun_from_it() {
    let driver = Driver::with(&[collected()]);
    let mut desk = Desk::open(&driver.path, clock()).unwrap();
    let recheck = desk.recheck("1003", "Ines Calloway").unwrap();
    for &reason in Reason::ALL {
        let error = desk
            .begin_from(&recheck.number, reason, "Ines Calloway")
            .unwrap_err();
        assert_eq!(error.kind, ErrorKind::Refused);
        assert!(error.message.contains("begin from 1003"), "{error}");
    }
    // The pair itself is carried as it was handed over and set since.
    let new = desk
        .begin_from("1003", Reason::SecondPair, "Ines Calloway")
        .unwrap();
    assert_eq!(mm(&new.job, "fitting.right.length_to_bend_mm"), Some(940));
}

#[test]
fn what_was_measured_on_one_wearer_never_becomes_anothers() {
    let driver = Driver::with(&[collected()]);
    let mut desk = Desk::open(&driver.path, clock()).unwrap();
    let begun = desk
        .begin_from("1003", Reason::SecondPair, "Ines Calloway")
        .unwrap();
    let mut record = |number: &str, change: Value| {
        desk.record(
            number,
            Section::Wearer,
            &change,
            None,
            Some("Ines Calloway"),
        )
    };
    for change in [
        json!({"name": "Otto Fremd"}),
        json!({"born": "1999-01-01"}),
        json!({"name": null}),
    ] {
        let error = record(&begun.number, change).unwrap_err();
        assert!(
            matches!(error.kind, ErrorKind::Refused | ErrorKind::Input),
            "{error}"
        );
    }
    // Anything else of the wearer, and the same name in other letters, is no other wearer.
    let name = begun.job.wearer.name.clone().unwrap();
    record(
        &begun.number,
        json!({"phone": "020 7946 0000", "name": name.to_uppercase()}),
    )
    .unwrap();
    // A name that was misspelt is put right where it was measured, then here.
    record("1003", json!({"name": "Wanda Holte"})).unwrap();
    record(&begun.number, json!({"name": "Wanda Holte"})).unwrap();
}

#[test]
fn an_origin_is_not_taken_away_from_its_value() {
    let driver = Driver::with(&[collected()]);
    let mut desk = Desk::open(&driver.path, clock()).unwrap();
    let begun = desk
        .begin_from("1003", Reason::Reglaze, "Ines Calloway")
        .unwrap();
    let error = desk
        .record(
            &begun.number,
            Section::Origins,
            &json!({"fitting.right.height_mm": null}),
            None,
            Some("Ines Calloway"),
        )
        .unwrap_err();
    assert_eq!(error.kind, ErrorKind::Refused, "{error}");
    assert_eq!(
        desk.load(&begun.number).unwrap().job.origins,
        begun.job.origins
    );
}

#[test]
fn history_keeps_the_origin_that_a_new_value_ended() {
    let driver = Driver::with(&[collected()]);
    let mut desk = Desk::open(&driver.path, clock()).unwrap();
    let new = desk
        .begin_from("1003", Reason::SecondPair, "Ines Calloway")
        .unwrap();
    desk.record(
        &new.number,
        Section::Fitting,
        &json!({"right": {"cd_mm": 31.5}}),
        None,
        Some("Ines Calloway"),
    )
    .unwrap();
    let event = desk.history(&new.number).unwrap().pop().unwrap();
    assert_eq!(
        event.detail["origins_ended"]["fitting.right.cd_mm"]["job"],
        "1003"
    );
}

/// Goes down until a row is in front.
fn down_to(d: &mut Driver, row: &str) {
    for _ in 0..30 {
        if d.screen(80, 24).contains(row) {
            return;
        }
        d.keys(&["down"]);
    }
    panic!("{row}: {}", d.screen(80, 24));
}

/// A driver with a second pair begun by keys from the look-up.
fn second_pair() -> Driver {
    let mut d = Driver::signed_in(&[collected()]);
    d.keys(&["/", "1003", "alt-n", "enter"]);
    assert!(d.app.job.is_some(), "{}", d.screen(80, 24));
    d
}

#[test]
fn by_keys_the_new_job_shows_what_is_carried_and_what_is_not() {
    let mut d = second_pair();
    assert_eq!(d.in_book().job.reason, Some(Reason::SecondPair));
    assert!(d.said().contains("carried (c)"), "{}", d.said());
    d.keys(&["alt-3"]);
    let seen = d.screen(80, 24);
    assert!(seen.contains("31.5 mm        c"), "{seen}");
    assert!(seen.contains("was 18.5 mm"), "{seen}");
    down_to(&mut d, ">centration distance");
    let seen = d.screen(80, 24);
    assert!(
        seen.contains("carried from 1003, 2026-10-12, measured by Ines Calloway"),
        "{seen}"
    );
    down_to(&mut d, ">fitting height");
    let seen = d.screen(80, 24);
    assert!(
        seen.contains("18.5 mm, in the frame of 1003: heights"),
        "{seen}"
    );
}

#[test]
fn by_keys_looking_into_an_entry_confirms_nothing_and_typing_it_does() {
    let mut d = second_pair();
    d.keys(&["alt-3"]);
    down_to(&mut d, ">centration distance");
    let carried = |d: &Driver| d.in_book().job.origins.contains_key("fitting.right.cd_mm");
    d.keys(&["enter", "enter", "left"]);
    assert!(carried(&d), "opened and left as it was");
    d.keys(&["31.5", "enter"]);
    assert!(!carried(&d), "measured again, the same");
    d.keys(&["ctrl-u"]);
    assert!(carried(&d), "taken back with its origin");
    assert_eq!(mm(&d.in_book().job, "fitting.right.cd_mm"), Some(315));
}

#[test]
fn by_keys_an_answer_shows_when_it_was_given_and_asked_again_it_is_of_now() {
    let mut d = second_pair();
    d.keys(&["alt-1"]);
    down_to(&mut d, ">allergies");
    let seen = d.screen(80, 24);
    assert!(
        seen.contains("carried from 1003, 2026-10-12, asked by Ines Calloway"),
        "{seen}"
    );
    let carried = |d: &Driver| d.in_book().job.origins.contains_key("wearer.allergies");
    assert!(carried(&d));
    d.keys(&["none", "enter"]);
    assert!(!carried(&d), "asked again, the same answer: {}", d.said());
    assert_eq!(d.in_book().job.wearer.allergies, Some(vec![]));
}

#[test]
fn by_keys_a_copy_comes_from_where_the_value_it_copies_comes_from() {
    let mut d = second_pair();
    d.keys(&["alt-3"]);
    down_to(&mut d, ">centration distance");
    let origin = |d: &Driver, eye: &str| {
        let origins = d.in_book().job.origins;
        origins.get(&format!("fitting.{eye}.cd_mm")).cloned()
    };
    let carried = origin(&d, "left").unwrap();
    assert!(carried.frame.is_some());
    // A carried value over a carried one: nobody has measured.
    d.keys(&["left", "="]);
    assert_eq!(origin(&d, "right"), Some(carried.clone()), "{}", d.said());
    let book = d.in_book().job;
    assert_eq!(book.fitting.right.cd_mm, book.fitting.left.cd_mm);
    assert_eq!(book.fitting.taken_by, None, "nobody has measured here");
    d.keys(&["ctrl-u"]);
    assert_eq!(mm(&d.in_book().job, "fitting.right.cd_mm"), Some(315));
    assert!(origin(&d, "right").is_some(), "taken back with its origin");
    // Over a value that was measured here, too.
    d.keys(&["30.5", "enter"]);
    down_to(&mut d, ">centration distance");
    assert_eq!(origin(&d, "right"), None);
    d.keys(&["up", "down", "left", "="]);
    assert_eq!(origin(&d, "right"), Some(carried.clone()), "{}", d.said());
    d.keys(&["ctrl-u"]);
    assert_eq!(
        (
            mm(&d.in_book().job, "fitting.right.cd_mm"),
            origin(&d, "right")
        ),
        (Some(305), None)
    );
    // What was measured here is this job's own on the other side, too.
    d.keys(&["right", "="]);
    assert_eq!(mm(&d.in_book().job, "fitting.left.cd_mm"), Some(305));
    assert_eq!(origin(&d, "left"), None);
    d.keys(&["ctrl-u"]);
    assert_eq!(origin(&d, "left"), Some(carried));
}
