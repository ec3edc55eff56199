//! How a pair reaches its wearer, who supervises where somebody has to, and single sight through prism:
//! asked by name, each with its own answer.

use crate::collecting_book::{all, collections, handover, held_by, to};
use crate::driver::{Driver, clock};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::Section;
use rimbook::testing::tui::Screen;
use rimbook::testing::tui::effect::Effect;
use serde_json::{Value, json};

/// A verified pair after a change of some sections.
fn with(changes: &Value) -> Driver {
    let mut d = collections();
    let number = d.collections().lines[0].number.clone();
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    for (section, change) in changes.as_object().unwrap() {
        let section = Section::from_word(section).unwrap();
        desk.record(&number, section, change, None, Some("Ines Calloway"))
            .unwrap();
    }
    drop(desk);
    d.run(vec![Effect::Reload]);
    d
}

fn asks(d: &Driver, path: &str) -> bool {
    all(d).iter().any(|s| s.path == path)
}

/// A wearer of nine on the day of the tests, 12 October 2026.
fn child() -> Value {
    json!({"wearer": {"born": "2017-05-02"}})
}

#[test]
fn how_a_pair_is_handed_over_is_asked_first_and_a_yes_is_in_person() {
    let mut d = with(&json!({}));
    assert_eq!(all(&d)[0].path, "handover.method");
    let shown = d.screen(80, 24);
    assert!(shown.contains("> Handed over in person"), "{shown}");
    d.keys(&["y"]);
    let kept = serde_json::to_value(handover(&d)).unwrap();
    assert_eq!(kept["method"], "in person");
    assert!(d.screen(80, 24).contains("> Two details"));
}

#[test]
fn of_a_posted_pair_nothing_is_asked_that_is_seen_on_the_face() {
    let mut d = with(&json!({}));
    d.keys(&["n"]);
    let shown = d.screen(80, 24);
    assert!(
        shown.contains("posted") && shown.contains("taken by another"),
        "{shown}"
    );
    assert!(
        !shown.contains("> in person"),
        "a no is not in person: {shown}"
    );
    d.keys(&["enter"]);
    let kept = serde_json::to_value(handover(&d)).unwrap();
    assert_eq!(kept["method"], "posted");
    assert!(!asks(&d, "handover.pads_level") && !asks(&d, "handover.distance_acuity"));
    assert!(asks(&d, "handover.identity_checked") && asks(&d, "handover.advice"));
    to(&mut d, "handover.review_on");
    d.keys(&["enter", "+14", "enter"]);
    let kept = serde_json::to_value(handover(&d)).unwrap();
    assert_eq!(kept["review_on"], "2026-10-26");
    assert!(
        held_by(&d, "not-fitted"),
        "a registered person still decides"
    );
}

#[test]
fn a_practice_that_posts_nothing_is_not_asked_how() {
    let mut d = with(&json!({}));
    assert!(asks(&d, "handover.method"));
    d.keys(&["esc"]);
    d.run(vec![Effect::SetPractice {
        key: "posted",
        value: "off".to_owned(),
        by: "Ines Calloway".to_owned(),
        secret: None,
    }]);
    d.run(vec![Effect::Reload]);
    d.keys(&["c"]);
    assert_eq!(d.app.screen, Screen::Collections);
    assert!(!asks(&d, "handover.method"));
}

#[test]
fn a_childs_pair_is_not_posted_and_somebody_registered_supervises_who_is_named() {
    let mut d = with(&child());
    assert!(
        !asks(&d, "handover.method"),
        "closed to the restricted groups"
    );
    assert!(
        !asks(&d, "handover.supervised_by"),
        "the giver is registered"
    );
    d.keys(&["w", "down", "enter"]);
    assert_eq!(d.app.person.as_deref(), Some("Nadia Brookwell"));
    assert!(asks(&d, "handover.supervised_by"));
    to(&mut d, "handover.supervised_by");
    // A yes is nobody's name: it asks which.
    d.keys(&["y"]);
    let shown = d.screen(80, 24);
    assert!(
        shown.contains("> Ines Calloway, dispensing optician"),
        "{shown}"
    );
    assert!(!shown.contains("Nadia Brookwell, assistant"), "{shown}");
    assert_eq!(handover(&d).supervised_by, None);
    d.keys(&["enter"]);
    let kept = handover(&d);
    assert_eq!(kept.supervised_by.as_deref(), Some("Ines Calloway"));
    assert_eq!(kept.given_by.as_deref(), Some("Nadia Brookwell"));
    assert!(!held_by(&d, "restricted-handover"));
}

#[test]
fn prism_of_a_reading_pair_is_near_prism() {
    let near = json!({
        "prescription": {"right": {"addition_d": 2.0, "near_base_in_delta": 1.5}, "left": {"addition_d": 2.0, "near_base_in_delta": 1.5}},
    });
    assert!(
        !asks(&with(&near), "handover.sees_single"),
        "the pair is for distance"
    );
    let mut near = near;
    near["lenses"] = json!({"purpose": "near", "powers": {
        "right": {"sphere_d": -0.25, "base_in_delta": 1.5}, "left": {"sphere_d": 0, "base_in_delta": 1.5}}});
    assert!(asks(&with(&near), "handover.sees_single"));
}
