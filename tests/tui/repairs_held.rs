//! A repair whose values a check holds: said at once, kept only by somebody registered with a reason.

use crate::driver::{Driver, assistant, clock, optician, scenario};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::{Repair, Section};
use serde_json::{Value, json};

/// The pair of scenario S01, collected; its wearer as changed.
fn collected(wearer: &Value) -> Value {
    let mut job = scenario("S01")["job"].clone();
    job["past"] = json!(true);
    job["number"] = json!("1003");
    job["stage"] = json!("collected");
    job["handover"] = json!({"given_by": "Ines Calloway", "given_on": "2026-10-12"});
    for (key, value) in wearer.as_object().unwrap() {
        job["wearer"][key] = value.clone();
    }
    job
}

fn desk(d: &Driver) -> Desk {
    Desk::open(&d.path, clock()).unwrap()
}

fn repairs(d: &Driver) -> Vec<Repair> {
    let open = desk(d).load("1003").unwrap();
    open.job.aftercare.repairs.clone()
}

/// Begins to set the front with a pantoscopic angle of 13 degrees, ordered at 7, and keeps it.
fn tilts_the_front(d: &mut Driver) {
    d.keys(&["/", "1003", "f2", "f", "enter"]);
    while !d.screen(80, 24).contains("> pantoscopic") {
        d.keys(&["down"]);
    }
    d.keys(&["enter", "13", "enter", "home", "enter"]);
}

#[test]
fn a_registered_person_keeps_a_held_repair_with_a_reason_and_history_says_so() {
    let mut d = Driver::signed_in(&[collected(&json!({}))]);
    tilts_the_front(&mut d);
    let seen = d.screen(80, 24);
    assert!(
        seen.contains("Not kept:") && seen.contains("13.0 degrees"),
        "{seen}"
    );
    assert_eq!(repairs(&d), []);
    // Without a reason nothing is kept.
    d.keys(&["k", "enter", "enter"]);
    assert!(
        d.screen(80, 24).contains("Write why"),
        "{}",
        d.screen(80, 24)
    );
    assert_eq!(repairs(&d), []);
    d.keys(&["the bridge is worn", "enter"]);
    assert!(d.said().contains("The repair is kept"), "{}", d.said());
    let kept = repairs(&d);
    assert_eq!(kept.len(), 1);
    assert_eq!(kept[0].reason.as_deref(), Some("the bridge is worn"));
    let history = desk(&d).history("1003").unwrap();
    let event = history.last().unwrap();
    assert_eq!(event.by.as_deref(), Some("Ines Calloway"));
    assert_eq!(event.detail["kept_although"][0]["check"], json!("fit-tilt"));
}

#[test]
fn a_held_repair_is_changed_or_dropped_and_not_lost() {
    let mut d = Driver::signed_in(&[collected(&json!({}))]);
    tilts_the_front(&mut d);
    d.keys(&["c", "enter"]);
    let seen = d.screen(80, 24);
    assert!(seen.contains("→ 13"), "what was typed is there: {seen}");
    d.keys(&["home", "enter", "d", "enter"]);
    assert!(d.said().contains("dropped"), "{}", d.said());
    assert_eq!(repairs(&d), []);
}

#[test]
fn an_assistant_keeps_no_held_repair_and_names_who_supervised_a_childs() {
    let child = json!({"born": "2016-01-01"});
    let mut d = Driver::with(&[collected(&child)]);
    // Who is acting: the second of the list.
    d.keys(&["w", "down", "enter"]);
    assert_eq!(d.app.person.as_deref(), Some(assistant().name.as_str()));
    d.keys(&["/", "1003", "f2", "s", "enter"]);
    while !d.screen(80, 24).contains("> right length to bend") {
        d.keys(&["down"]);
    }
    d.keys(&["enter", "94", "enter", "home", "enter"]);
    let seen = d.screen(80, 24);
    assert!(seen.contains("Not kept: the wearer is under 16"), "{seen}");
    assert!(!seen.contains("keep it as it is, and say why"), "{seen}");
    assert!(seen.contains("only somebody registered keeps it"), "{seen}");
    d.keys(&["s", "enter"]);
    let seen = d.screen(80, 24);
    let who = optician().name;
    assert!(
        seen.contains(&who) && !seen.contains("Nadia Brookwell, assistant"),
        "{seen}"
    );
    d.keys(&["enter"]);
    assert!(d.said().contains("The repair is kept"), "{}", d.said());
    let kept = repairs(&d);
    assert_eq!(kept[0].supervised_by, Some(who));
    assert_eq!(kept[0].by, Some(assistant().name));
}

#[test]
fn below_the_screens_nobody_else_keeps_one_reason_or_not() {
    let d = Driver::with(&[collected(&json!({}))]);
    let mut desk = desk(&d);
    let repair = |reason: Value| -> Repair {
        serde_json::from_value(
            json!({"kind": "front set", "pantoscopic_deg": 13, "reason": reason}),
        )
        .unwrap()
    };
    for (by, reason, kept) in [
        ("Nadia Brookwell", Value::Null, false),
        ("Nadia Brookwell", json!("it looks right"), false),
        ("Ines Calloway", Value::Null, false),
        ("Ines Calloway", json!("  "), false),
        ("Ines Calloway", json!("new sides are ordered"), true),
    ] {
        let answer = desk.add_repair("1003", by, repair(reason.clone())).unwrap();
        assert_eq!(answer.kept.is_some(), kept, "{by} {reason}");
        assert_eq!(answer.findings.len(), 1, "{by} {reason}");
    }
    // A reason alone is no repair.
    let nothing = serde_json::from_value(json!({"reason": "it looks right"})).unwrap();
    assert!(desk.add_repair("1003", "Ines Calloway", nothing).is_err());
    // What the next repair sets is judged alone.
    let change = json!({"pantoscopic_deg": 20});
    desk.record("1003", Section::Handover, &change, None, None)
        .unwrap();
    let bend = serde_json::from_value(json!({"right": {"length_to_bend_mm": 97}})).unwrap();
    assert!(
        desk.add_repair("1003", "Nadia Brookwell", bend)
            .unwrap()
            .kept
            .is_some()
    );
}
