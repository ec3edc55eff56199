//! Two people at one book: what another terminal keeps is shown, and nothing is overwritten unseen.

use crate::driver::{Driver, clock, scenario, to_field, value};
use crate::reducer::enter;
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::Section;
use rimbook::testing::tui::update::Input;
use serde_json::json;

fn job(id: &str) -> serde_json::Value {
    scenario(id)["job"].clone()
}

#[test]
fn a_change_made_elsewhere_is_shown_and_not_overwritten() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["enter"]);
    let number = d.app.job.as_ref().unwrap().open.number.clone();
    to_field(&mut d, "fitting.right.vertex_mm");
    d.keys(&["14"]);
    let mut other = Desk::open(&d.path, clock()).unwrap();
    let change = json!({"right": {"vertex_mm": 13}});
    other
        .record(
            &number,
            Section::Fitting,
            &change,
            None,
            Some("Nadia Brookwell"),
        )
        .unwrap();
    d.keys(&["enter"]);
    assert_eq!(
        value(&d, "fitting.right.vertex_mm"),
        "13",
        "the other's value stands"
    );
    assert!(d.said().contains("Somebody else changed"), "{}", d.said());
    let edit = d
        .app
        .states
        .form()
        .and_then(|f| f.edit())
        .cloned()
        .expect("kept");
    assert_eq!(edit.line.text(), "14");
    d.keys(&["enter"]);
    assert_eq!(
        value(&d, "fitting.right.vertex_mm"),
        "14",
        "kept once it was seen"
    );
}

#[test]
fn what_somebody_else_kept_is_shown_under_what_is_typed_and_replaced_only_when_asked() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["enter"]);
    let number = d.app.job.as_ref().unwrap().open.number.clone();
    to_field(&mut d, "frame.colour");
    d.keys(&["bbb"]);
    let mut other = Desk::open(&d.path, clock()).unwrap();
    let by = Some("Nadia Brookwell");
    let change = json!({"colour": "aaa"});
    let kept = other.record(&number, Section::Frame, &change, None, by);
    kept.unwrap();
    d.input(Input::Poll);
    let shown = d.screen(80, 24);
    assert!(shown.contains("bbb"), "{shown}");
    assert!(shown.contains("somebody else has kept aaa"), "{shown}");
    // Typing on takes the line away; the key that keeps asks.
    d.keys(&["c", "enter"]);
    assert_eq!(value(&d, "frame.colour"), "aaa");
    let shown = d.screen(80, 24);
    assert!(shown.contains("bbbc"), "{shown}");
    assert!(shown.contains("somebody else has kept aaa"), "{shown}");
    d.keys(&["enter"]);
    assert_eq!(value(&d, "frame.colour"), "bbbc");
}

#[test]
fn an_idle_screen_notices_a_change_made_elsewhere_and_keeps_what_is_typed() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["enter"]);
    let number = d.app.job.as_ref().unwrap().open.number.clone();
    to_field(&mut d, "wearer.phone");
    d.keys(&["0123"]);
    let mut other = Desk::open(&d.path, clock()).unwrap();
    let change = json!({"occupation": "carver"});
    other
        .record(
            &number,
            Section::Wearer,
            &change,
            None,
            Some("Nadia Brookwell"),
        )
        .unwrap();
    d.input(Input::Poll);
    let job = d.app.job.as_ref().unwrap();
    assert_eq!(job.open.job.wearer.occupation.as_deref(), Some("carver"));
    assert_eq!(
        d.app.states.form().unwrap().edit().unwrap().line.text(),
        "0123"
    );
    assert!(d.said().contains("another program"), "{}", d.said());
}

#[test]
fn its_own_changes_are_not_taken_for_somebody_elses() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["enter"]);
    enter(&mut d, "wearer.phone", "0123");
    d.keys(&["down"]);
    d.input(Input::Poll);
    assert_eq!(d.said(), "");
}
