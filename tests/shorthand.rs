//! Fewer keys: the gate from an entry, who measured and when, names by their beginning.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    reason = "tests"
)]

mod driver;

use driver::{Driver, scenario};
use rimbook::app::Screen;
use serde_json::Value;

fn job(id: &str) -> Value {
    scenario(id)["job"].clone()
}

#[test]
fn the_gate_is_shown_from_an_entry_once_it_is_kept_and_not_before() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&[
        "/", "1001", "enter", "alt-3", "down", "down", "down", "down", "down",
    ]);
    d.keys(&["banana", "ctrl-g"]);
    assert_eq!(d.app.screen, Screen::Job, "what is no length is not kept");
    d.keys(&["ctrl-u", "62", "ctrl-g"]);
    assert_eq!(d.app.screen, Screen::Gate);
    assert_eq!(
        d.in_book()
            .job
            .fitting
            .binocular_pd_mm
            .map(|v| v.to_string())
            .as_deref(),
        Some("62.0"),
        "what was typed was kept first"
    );
}

#[test]
fn the_first_reading_says_who_read_it_and_when_and_undo_takes_both_back() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&[
        "/", "1001", "enter", "alt-7", "down", "down", "-2.50", "enter",
    ]);
    let readings = d.in_book().job.readings;
    assert_eq!(readings.taken_by.as_deref(), Some("Ines Calloway"));
    assert_eq!(readings.taken_on, Some(driver::today()));
    d.keys(&["ctrl-u"]);
    let readings = d.in_book().job.readings;
    assert_eq!((readings.taken_by, readings.taken_on), (None, None));
}

#[test]
fn a_name_is_typed_by_its_beginning_or_as_me() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["/", "1001", "enter", "alt-7", "nad", "enter"]);
    assert_eq!(
        d.in_book().job.readings.taken_by.as_deref(),
        Some("Nadia Brookwell")
    );
    d.keys(&["up", "me", "enter"]);
    assert_eq!(
        d.in_book().job.readings.taken_by.as_deref(),
        Some("Ines Calloway")
    );
}

#[test]
fn a_whole_power_is_seen_with_its_sign_while_it_is_typed() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["/", "1001", "enter", "alt-2"]);
    for _ in 0..20 {
        if d.screen(80, 24).contains(">sphere") {
            break;
        }
        d.keys(&["down"]);
    }
    for (eye, typed) in [
        ("right", "-16.25/-10.75x170"),
        ("left", "-11.25/-10.25x90 add 2.25"),
    ] {
        d.keys(&[typed]);
        for (columns, rows) in [(80, 24), (120, 40)] {
            let screen = d.screen(columns, rows);
            assert!(screen.contains(typed), "{eye}\n{screen}");
        }
        d.keys(&["tab"]);
    }
    assert_eq!(
        d.in_book().job.prescription.left.sphere_d.map(|s| s.get()),
        Some(-11.25)
    );
}
