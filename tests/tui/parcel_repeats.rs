//! A doubtful reading at the parcel is taken three times, and the middle one counts.
#![allow(dead_code, reason = "each test file uses its part")]

use crate::driver::Driver;
use crate::parcel_book::{book, job_in_hand, ordered, taken_up, types};
use rimbook::testing::job::{Job, read_jobs};
use rimbook::testing::judge::derive::verification::{Reading, report};
use rimbook::testing::judge::rules::repeats;
use rimbook::testing::practice::Practice;
use rimbook::testing::tui::Screen;
use rimbook::testing::tui::keymap::Keymap;
use serde_json::{Value, json};

#[test]
fn a_doubtful_reading_is_taken_three_times_still_blind_and_the_middle_one_counts() {
    let mut d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    taken_up(&mut d);
    // 0.13 against a limit of 0.12: a throw of a coin for a focimeter that is good to 0.06.
    types(&mut d, &["-3.88/-1.25x77"]);
    let screen = d.screen(80, 24);
    assert!(screen.contains("Power, right: second reading"), "{screen}");
    d.keys(&["v"]);
    assert!(!d.shows_verdict());
    types(&mut d, &["-3.80/-1.25x77"]);
    assert!(d.screen(80, 24).contains("third reading"));
    types(&mut d, &["-3.78/-1.25x77", "-4.25/-1.75x103"]);
    for number in ["-3.75", "-4.25 "] {
        assert!(!d.screen(80, 24).contains(number), "{}", d.screen(80, 24));
    }
    types(&mut d, &["32.3", "32.7", "18.7", "18.9"]);
    let job = job_in_hand(&d).clone();
    assert_eq!(job.readings.right.sphere_d.unwrap().thousandths(), -3880);
    let kept: Vec<i32> = job
        .readings
        .repeats
        .right
        .iter()
        .map(|r| r.sphere_d.unwrap().thousandths())
        .collect();
    assert_eq!(kept, [-3800, -3780], "all three are kept");
    assert!(job.readings.repeats.left.is_empty());
    let screen = d.screen(80, 24);
    assert!(
        screen.contains("-3.80") && !screen.contains("-3.88"),
        "{screen}"
    );
    assert!(screen.contains("right 3"), "{screen}");
    // The same in the book, in a file and back.
    let stored = d.in_book().job;
    assert_eq!(stored.readings, job.readings);
    let file = Value::Object(stored.to_file().unwrap()).to_string();
    assert_eq!(read_jobs(&file).unwrap()[0].readings, job.readings);
}

/// A spherical pair, for readings at one limit at a time.
fn spherical(ordered_d: f64, reads: &[f64]) -> Job {
    let mut file = ordered("Ada Brookfield", "2026-10-12");
    for part in ["prescription", "fitting"] {
        for eye in ["right", "left"] {
            if part == "prescription" {
                file[part][eye] = json!({"sphere_d": ordered_d});
                file["lenses"]["powers"][eye] = json!({"sphere_d": ordered_d});
            }
        }
    }
    let again: Vec<Value> = reads[1..].iter().map(|s| json!({"sphere_d": s})).collect();
    file["readings"] = json!({
        "right": {"sphere_d": reads[0]}, "left": {"sphere_d": ordered_d},
        "repeats": {"right": again}
    });
    read_jobs(&file.to_string()).unwrap().remove(0)
}

#[test]
fn the_band_is_asked_on_its_edges_and_not_beyond_them() {
    let practice = Practice::default();
    let wanted = |ordered_d: f64, read: f64| {
        repeats::wanted(
            &spherical(ordered_d, &[read]),
            &practice,
            rimbook::testing::trade::eye::Eye::Right,
        )
    };
    // Within 5 D: limit 0.12, band 0.06.
    for (error, more) in [
        (0.0, 0),
        (0.059, 0),
        (0.06, 2),
        (0.12, 2),
        (0.13, 2),
        (0.18, 2),
        (0.181, 0),
        (0.5, 0),
    ] {
        assert_eq!(wanted(-2.0, -2.0 - error), more, "{error}");
        assert_eq!(wanted(-2.0, -2.0 + error), more, "{error} the other way");
    }
    // From 5 to 10 D the focimeter may be out by 0.09; beyond by 0.12.
    let report_limit = |ordered_d: f64| {
        let job = spherical(ordered_d, &[ordered_d]);
        report(&job, &practice, Reading::AsRead).unwrap().lines[0].limit
    };
    for (ordered_d, band) in [(-7.0, 0.09), (-12.0, 0.12)] {
        let limit = report_limit(ordered_d);
        for (error, more) in [
            (limit - band - 0.002, 0),
            (limit - band, 2),
            (limit + band, 2),
            (limit + band + 0.002, 0),
        ] {
            assert_eq!(
                wanted(ordered_d, ordered_d - error),
                more,
                "{ordered_d} {error}"
            );
        }
    }
}

#[test]
fn the_band_is_the_practices_own() {
    let mut practice = Practice::default();
    let job = spherical(-2.0, &[-2.05]);
    let wanted = |p: &Practice| repeats::wanted(&job, p, rimbook::testing::trade::eye::Eye::Right);
    assert_eq!(wanted(&practice), 0);
    practice.set("focimeter-5", "0.08").unwrap();
    assert_eq!(wanted(&practice), 2);
}

#[test]
fn the_middle_of_three_decides_either_way_and_two_are_not_enough() {
    let practice = Practice::default();
    let passes = |reads: &[f64]| {
        let report = report(&spherical(-2.0, reads), &practice, Reading::AsRead).unwrap();
        report.pass
    };
    assert!(!passes(&[-2.14]));
    assert!(passes(&[-2.14, -2.1, -2.08]));
    assert!(passes(&[-2.1]));
    assert!(!passes(&[-2.1, -2.14, -2.15]));
    assert!(!passes(&[-2.1, -2.14]), "of two the worse");
    // On both sides of the order the middle lies between them.
    assert!(passes(&[-2.14, -1.86, -2.0]));
    let more = repeats::wanted(
        &spherical(-2.0, &[-2.14, -2.1]),
        &practice,
        rimbook::testing::trade::eye::Eye::Right,
    );
    assert_eq!(more, 1);
    let enough = spherical(-2.0, &[-2.14, -2.1, -2.12]);
    assert_eq!(
        repeats::wanted(&enough, &practice, rimbook::testing::trade::eye::Eye::Right),
        0
    );
}

/// That the gate, the form and the verdict of the pair in hand are refused, with a reason and a way.
fn is_kept_blind(d: &mut Driver, why: &str) {
    for (key, what) in [("g", "the gate"), ("ctrl-g", "the gate"), ("o", "the form")] {
        d.keys(&[key]);
        assert_eq!(d.app.screen, Screen::Parcel, "{key}");
        assert!(d.in_hand().is_some(), "{key}");
        let said = d.said();
        assert!(said.contains(why) && said.contains(what), "{key}: {said}");
        assert!(said.contains("esc puts the pair down"), "{key}: {said}");
        let screen = d.screen(80, 24);
        assert!(screen.contains("in the list then shows"), "{screen}");
        assert!(!screen.contains("ordered -"), "{screen}");
    }
    for key in ["v", "m"] {
        d.keys(&[key]);
        assert!(!d.shows_verdict(), "{key}");
        assert_eq!(d.app.screen, Screen::Parcel, "{key}");
        assert!(d.said().contains(why), "{key}: {}", d.said());
    }
    // Nor is the order put into the reason for sending it back.
    d.keys(&["s"]);
    let screen = d.screen(80, 24);
    assert!(screen.contains("go back to the laboratory?"), "{screen}");
    assert!(!screen.contains("out by"), "{screen}");
    d.keys(&["esc"]);
    let hints = d.screen(120, 40).lines().last().unwrap().to_owned();
    for word in ["gate", "job", "verdict", "move on"] {
        assert!(!hints.contains(&format!(" {word}  ")), "{word}: {hints}");
    }
}

#[test]
fn gate_form_and_verdict_wait_until_every_reading_of_the_round_is_in() {
    let mut d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    taken_up(&mut d);
    is_kept_blind(&mut d, "Neither lens is read yet");
    // Against a limit of 0.12, with a focimeter that is good to 0.06.
    types(&mut d, &["-3.88/-1.25x77"]);
    is_kept_blind(&mut d, "The left lens is not read yet");
    types(&mut d, &["-3.80/-1.25x77"]);
    d.parcel_mut().row = 6;
    types(&mut d, &["-4.25/-1.75x103"]);
    is_kept_blind(&mut d, "the right lens is to be read once more");
    d.parcel_mut().row = 5;
    types(&mut d, &["-3.78/-1.25x77"]);
    // Now the round is in: each of them is shown, and Esc leads back to the pair in hand.
    for (key, screen) in [("g", Screen::Gate), ("ctrl-g", Screen::Gate)] {
        d.keys(&[key]);
        assert_eq!(d.app.screen, screen, "{key}: {}", d.said());
        d.keys(&["esc"]);
        assert_eq!(d.app.screen, Screen::Parcel, "{key}");
        assert!(d.in_hand().is_some(), "{key}");
    }
    d.keys(&["o"]);
    assert_eq!(d.app.screen, Screen::Job);
    d.keys(&["esc"]);
    assert_eq!(d.app.screen, Screen::Parcel);
    d.keys(&["v"]);
    assert!(d.shows_verdict());
}

#[test]
fn the_card_waits_for_the_readings_that_decide_as_well() {
    let mut d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    taken_up(&mut d);
    // A doubtful right lens; past its second and third reading to the left one.
    types(&mut d, &["-3.88/-1.25x77"]);
    d.keys(&["down", "down"]);
    types(&mut d, &["-4.25/-1.75x103"]);
    let job = job_in_hand(&d);
    assert!(job.readings.left.sphere_d.is_some() && job.readings.repeats.right.is_empty());
    d.keys(&["/", "Ada"]);
    let screen = d.screen(140, 50);
    assert!(
        screen.contains("hidden until the readings decide"),
        "{screen}"
    );
    assert!(!screen.contains("-3.75"), "{screen}");
}

#[test]
fn from_the_list_the_gate_leads_back_to_the_list() {
    let mut d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    d.keys(&["p", "g"]);
    assert_eq!(d.app.screen, Screen::Gate);
    d.keys(&["esc"]);
    assert_eq!(d.app.screen, Screen::Parcel);
    assert!(d.in_hand().is_none());
}

#[test]
fn what_is_said_of_yes_and_no_follows_the_practices_own_keys() {
    let mut d = book(&[ordered("Ada Brookfield", "2026-10-12")]);
    d.app.keymap = Keymap::with_file("yes = \"j\"\nno = \"x\"\nverdict = \"z\"").unwrap();
    d.keys(&["p", "enter"]);
    assert!(
        d.screen(80, 24).contains("  j or x"),
        "{}",
        d.screen(80, 24)
    );
    d.keys(&["enter"]);
    assert!(d.said().contains("Frame trued: j or x"), "{}", d.said());
    d.keys(&["j", "j", "j"]);
    types(&mut d, &["-3.75/-1.25x77", "-4.25/-1.75x103"]);
    types(&mut d, &["32.3", "32.7", "18.7", "18.9"]);
    let screen = d.screen(80, 24);
    assert!(screen.contains("resin 1.60? j or x"), "{screen}");
    d.keys(&["5"]);
    assert!(d.said().contains("z goes back"), "{}", d.said());
}
