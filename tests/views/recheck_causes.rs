//! Likely causes: what points to them, in which order, and that health comes first.

use rimbook::testing::job::danger_words;
use rimbook::testing::job::{Job, Section, read_jobs};
use rimbook::testing::practice::Practice;
use rimbook::testing::views::recheck::causes::Weight;
use rimbook::testing::views::recheck::{Likely, compare, likely};
use serde_json::{Value, json};

fn first() -> Job {
    let powers = json!({"sphere_d": 1, "addition_d": 2});
    read_jobs(
        &json!({"format": "rimbook-job", "version": 1, "number": "26-0001", "wearer": {"name": "Ada"},
            "prescription": {"right": powers, "left": powers},
            "fitting": {"taken_on": "2026-10-02", "pantoscopic_deg": 8,
                "right": {"cd_mm": 32, "height_mm": 20, "vertex_mm": 12}, "left": {"cd_mm": 32, "height_mm": 20, "vertex_mm": 12}},
            "lenses": {"design": "progressive", "coatings": ["anti-reflection"], "powers": {"as": "prescribed", "right": powers, "left": powers}}})
        .to_string(),
    )
    .unwrap()
    .remove(0)
}

fn listed(first: &Job, changes: &[(&str, Value)]) -> Vec<Likely> {
    let mut now = first.clone();
    now.number = Some("26-0002".to_owned());
    now.linked_to.clone_from(&first.number);
    for (section, change) in changes {
        now.record(Section::from_word(section).unwrap(), change)
            .unwrap();
    }
    let comparison = compare(&now, Some(first), &Practice::default());
    likely(&now, Some(first), &comparison)
}

fn ids(list: &[Likely]) -> Vec<&'static str> {
    list.iter().map(|l| l.row.id).collect()
}

#[test]
fn nothing_said_and_nothing_changed_points_nowhere() {
    let list = listed(&first(), &[]);
    assert!(list.is_empty(), "{:?}", ids(&list));
}

#[test]
fn a_complaint_with_a_value_comes_before_either_alone() {
    let list = listed(
        &first(),
        &[
            ("fitting", json!({"right": {"height_mm": 18}})),
            ("visit", json!({"complaints": ["clear with chin moved"]})),
        ],
    );
    let of = |id: &str| list.iter().find(|l| l.row.id == id).expect(id);
    assert_eq!(list[0].row.id, "cross-low", "{:?}", ids(&list));
    assert_eq!(of("cross-low").weight, Weight::Both);
    // It sits lower, so nothing but the complaint says that it sits too high.
    assert_eq!(of("cross-high").weight, Weight::Complaint);
    let because = &of("cross-low").because;
    assert!(
        because[0].contains("chin") && because.iter().any(|b| b.contains("18.0")),
        "{because:?}"
    );
    assert!(list.is_sorted_by_key(|l| l.weight));
}

#[test]
fn each_way_of_a_difference_points_its_own_way() {
    let at = |mm: f64| {
        ids(&listed(
            &first(),
            &[(
                "fitting",
                json!({"right": {"vertex_mm": mm}, "left": {"vertex_mm": mm}}),
            )],
        ))
    };
    assert!(at(18.0).contains(&"too-far") && !at(18.0).contains(&"too-near"));
    assert!(at(6.0).contains(&"too-near") && at(6.0).contains(&"lashes"));
    assert!(!at(13.0).contains(&"too-far"), "within its limit");
}

#[test]
fn what_changed_from_the_previous_pair_points_to_the_prescription() {
    let mut pair = first();
    pair.record(
        Section::Prescription,
        &json!({"previous": {"design": "bifocal", "right": {"sphere_d": 0.75, "addition_d": 1.5}, "left": {"sphere_d": 1}}}),
    )
    .unwrap();
    let list = listed(&pair, &[]);
    let there = ids(&list);
    for id in ["over-plus", "addition-strong", "new-zone", "segment-type"] {
        assert!(there.contains(&id), "{id}: {there:?}");
    }
    assert!(list.iter().all(|l| l.weight == Weight::Values));
}

#[test]
fn an_order_that_is_not_the_prescription_is_named() {
    let mut pair = first();
    pair.record(
        Section::Lenses,
        &json!({"powers": {"right": {"sphere_d": -1}}}),
    )
    .unwrap();
    let list = listed(&pair, &[]);
    let keyed = list.iter().find(|l| l.row.id == "keyed-wrong").unwrap();
    assert!(keyed.because[0].contains("prescribed +1.00, ordered -1.00"));
}

#[test]
fn a_reading_outside_the_standard_points_to_the_laboratory() {
    let eye = |s: f64| json!({"sphere_d": s, "addition_d": 2});
    let read = |s: f64| {
        ids(&listed(
            &first(),
            &[("readings", json!({"right": eye(s), "left": eye(1.0)}))],
        ))
    };
    assert!(read(1.25).contains(&"one-lens-power"));
    assert!(!read(1.06).contains(&"one-lens-power"));
}

#[test]
fn health_warning_words_come_first_whatever_else_is_there() {
    let change = |visit: Value| {
        listed(
            &first(),
            &[
                ("fitting", json!({"right": {"height_mm": 16}})),
                ("visit", visit),
            ],
        )
    };
    let ticked = change(json!({"complaints": ["clear with chin moved", "health warning words"]}));
    assert_eq!(
        (ticked[0].row.id, ticked[0].weight),
        ("health", Weight::Health)
    );
    assert!(ticked[0].row.remedy.contains("the optometrist today"));
    let said = change(json!({"complaint": "Since Monday I see flashes on the left"}));
    assert_eq!(said[0].row.id, "health");
    assert!(said[0].because[0].contains("flash"));
    let quiet = change(json!({"complaint": "they slip"}));
    assert_ne!(quiet[0].row.id, "health");
}

#[test]
fn a_danger_word_that_is_denied_is_none() {
    assert_eq!(danger_words("no flashes, no pain"), Vec::<&str>::new());
    assert_eq!(
        danger_words("Not painful. A sudden veil"),
        ["sudden", "veil"]
    );
    assert_eq!(danger_words("no pain, but PAIN at night"), ["pain"]);
}

#[test]
fn every_listed_cause_says_why_and_what_to_do() {
    let all: Vec<Value> = rimbook::testing::job::Complaint::ALL
        .iter()
        .map(|c| json!(c))
        .collect();
    let list = listed(&first(), &[("visit", json!({ "complaints": all }))]);
    assert!(list.len() >= 48, "{}", list.len());
    for l in &list {
        let r = l.row;
        assert!(!l.because.is_empty() && !r.remedy.is_empty() && !r.check.is_empty());
        assert!(!r.source.is_empty() && !r.cause.is_empty(), "{}", r.id);
    }
}
