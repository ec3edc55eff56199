//! Repairs and adjustments of a collected pair: how it stands now, by keys and on the command line.
//!
//! `tests/data/scenarios.json`: people, frames and laboratories are invented.

use crate::driver;

use std::process::Command;

use crate::driver::{Driver, clock, scenario};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::fields::set_repair_value;
use rimbook::testing::job::{Job, Repair, RepairKind, Section, TakenAs, handover_now, read_jobs};
use rimbook::testing::practice::Practice;
use rimbook::testing::trade::units::Millimetre;
use rimbook::testing::views::card::{CardData, CardLine, fitting_card, second_card};
use serde_json::{Value, json};

fn collected(repairs: &Value) -> Value {
    let mut job = scenario("S01")["job"].clone();
    job["past"] = json!(true);
    job["number"] = json!("1003");
    job["stage"] = json!("collected");
    job["frame"]["pads"] = json!({"mount": "screw", "size_mm": 13, "material": "silicone"});
    job["handover"] = json!({"given_by": "Hugo Penrith", "given_on": "2026-10-21",
        "right": {"vertex_mm": 12, "length_to_bend_mm": 97}, "left": {"vertex_mm": 12, "length_to_bend_mm": 96}});
    if repairs.as_array().is_some_and(|r| !r.is_empty()) {
        job["aftercare"] = json!({ "repairs": repairs });
    }
    job
}

fn job(repairs: &Value) -> Job {
    read_jobs(&collected(repairs).to_string())
        .unwrap()
        .remove(0)
}

#[test]
fn a_pair_that_was_not_touched_stands_as_it_was_handed_over() {
    let job = job(&json!([]));
    let now = handover_now(&job);
    assert_eq!(now.len(), 4);
    let bend = &now["right.length_to_bend_mm"];
    assert_eq!(
        (bend.value.to_json(), bend.taken_as),
        (json!(97), TakenAs::HandedOver)
    );
    assert_eq!(bend.on, job.handover.given_on);
    assert_eq!(handover_now(&Job::default()).len(), 0);
}

#[test]
fn the_latest_repair_of_a_value_wins_and_touches_no_other() {
    // Written down in another order than it was done.
    let job = job(&json!([
        {"on": "2026-12-01", "kind": "sides set", "right": {"length_to_bend_mm": 92}},
        {"on": "2026-11-02", "by": "Nadia Brookwell", "kind": "sides set",
            "right": {"length_to_bend_mm": 94}, "left": {"length_to_bend_mm": 95}},
        {"on": "2026-11-20", "kind": "pads changed", "pads": {"size_mm": 15}},
        {"on": "2026-12-05", "kind": "checked"}
    ]));
    let now = handover_now(&job);
    let of = |path: &str| (now[path].value.to_json(), now[path].on.unwrap().to_string());
    assert_eq!(
        of("right.length_to_bend_mm"),
        (json!(92), "2026-12-01".to_owned())
    );
    assert_eq!(
        of("left.length_to_bend_mm"),
        (json!(95), "2026-11-02".to_owned())
    );
    assert_eq!(of("pads.size_mm"), (json!(15), "2026-11-20".to_owned()));
    assert_eq!(now["right.vertex_mm"].taken_as, TakenAs::HandedOver);
    assert!(!now.contains_key("pads.material"), "nobody changed it");
    assert_eq!(
        job.handover.right.length_to_bend_mm,
        Millimetre::new(97.0).ok(),
        "still there"
    );
}

fn text(lines: &[CardLine]) -> String {
    let lines: Vec<String> = lines.iter().map(CardLine::text).collect();
    lines.join("\n")
}

#[test]
fn the_card_says_what_differs_now_and_since_when_beside_what_was_handed_over() {
    let job = job(&json!([
        {"on": "2026-11-02", "by": "Nadia Brookwell", "kind": "sides set", "note": "slipped",
            "right": {"length_to_bend_mm": 94, "vertex_mm": 12}}]));
    for width in [40, 78] {
        let card = text(&fitting_card(&job, "1003", &Practice::default(), width));
        assert!(card.contains("R 97 L 96 mm as set"), "{card}");
        assert!(
            card.contains("now    bend R 94 L 96 mm from 2026-11-02"),
            "{card}"
        );
        assert!(
            !card.contains("now    vertex"),
            "the same as handed over: {card}"
        );
    }
    let after = text(&second_card(
        &job,
        &[],
        &CardData::of(&job, &Practice::default()),
        78,
    ));
    assert!(
        after.contains("repair 2026-11-02 · sides set · slipped · Nadia Brookwell"),
        "{after}"
    );
}

#[test]
fn a_wide_card_of_a_repaired_pair_with_an_allergy_still_fits_its_eight_rows() {
    let mut job = job(
        &json!([{"on": "2026-11-02", "kind": "sides set", "right": {"length_to_bend_mm": 94}}]),
    );
    job.wearer.allergies = Some(vec!["nickel".to_owned()]);
    let lines = fitting_card(&job, "1003", &Practice::default(), 78);
    assert_eq!(lines.len(), 8, "{}", text(&lines));
    assert!(text(&lines).contains("Fernley") && text(&lines).contains("single vision"));
}

#[test]
fn a_value_is_typed_as_it_is_in_the_handover() {
    let today = driver::today();
    let empty = Repair::default();
    let set = |path: &str, value: &str| set_repair_value(&empty, path, value, today);
    assert_eq!(
        set("right.length_to_bend_mm", "94,5")
            .unwrap()
            .right
            .length_to_bend_mm,
        Millimetre::new(94.5).ok()
    );
    assert_eq!(
        set("pads.material", "sil")
            .unwrap()
            .pads
            .unwrap()
            .material
            .unwrap()
            .word(),
        "silicone"
    );
    assert_eq!(set("right.length_to_bend_mm", "").unwrap(), empty);
    assert!(
        set("right.length_to_bend_mm", "long")
            .unwrap_err()
            .0
            .contains("millimetres")
    );
    assert!(
        set("right.sphere_d", "1")
            .unwrap_err()
            .0
            .contains("name one of right.vertex_mm")
    );
}

#[test]
fn by_keys_a_repair_is_kept_with_its_value_and_words() {
    let mut d = Driver::signed_in(&[collected(&json!([]))]);
    d.keys(&["/", "1003", "f2"]);
    assert!(
        d.screen(80, 24).contains("what was done"),
        "{}",
        d.screen(80, 24)
    );
    // A letter goes to the kind that begins with it: sides set stands before screw.
    d.keys(&["s", "enter"]);
    let seen = d.screen(80, 24);
    assert!(
        seen.contains("keep it: sides set") && seen.contains("right length to bend: 97"),
        "{seen}"
    );
    d.keys(&["r", "r", "enter", "94", "enter"]);
    let seen = d.screen(80, 24);
    assert!(seen.contains("right length to bend: 97 → 94"), "{seen}");
    d.keys(&["home", "down", "enter", "slipped", "enter", "home", "enter"]);
    assert!(d.said().contains("The repair is kept"), "{}", d.said());
    let open = Desk::open(&d.path, clock()).unwrap().load("1003").unwrap();
    let repair = &open.job.aftercare.repairs[0];
    assert_eq!(repair.kind, Some(RepairKind::Sides));
    assert_eq!(repair.note.as_deref(), Some("slipped"));
    assert_eq!(repair.by.as_deref(), Some("Ines Calloway"));
    assert_eq!(repair.right.length_to_bend_mm, Millimetre::new(94.0).ok());
    assert!(
        d.screen(80, 24)
            .contains("bend R 94 L 96 mm from 2026-10-12"),
        "{}",
        d.screen(80, 24)
    );
}

#[test]
fn a_repair_that_was_changed_is_not_left_without_a_question() {
    let repairs = |d: &Driver| {
        let desk = Desk::open(&d.path, clock()).unwrap();
        desk.load("1003").unwrap().job.aftercare.repairs.len()
    };
    let mut d = Driver::signed_in(&[collected(&json!([]))]);
    // Nothing changed: nothing to ask.
    d.keys(&["/", "1003", "f2", "s", "enter", "esc"]);
    assert!(d.app.dialog.is_none());
    d.keys(&["f2", "s", "enter", "r", "r", "enter", "94", "enter", "esc"]);
    let seen = d.screen(80, 24);
    assert!(seen.contains("This repair is not kept yet"), "{seen}");
    // Esc once more is no answer, and the first answer drops nothing.
    for key in ["esc", "enter"] {
        d.keys(&[key]);
        let seen = d.screen(80, 24);
        assert!(seen.contains("right length to bend: 97 → 94"), "{seen}");
        d.keys(&["esc"]);
    }
    d.keys(&["end", "enter"]);
    assert!(d.app.dialog.is_none());
    assert!(d.said().contains("dropped"), "{}", d.said());
    assert_eq!(repairs(&d), 0);
    // Kept from there, it is the same as from the list.
    d.keys(&["f2", "s", "enter", "r", "r", "enter", "94", "enter", "esc"]);
    d.keys(&["down", "enter"]);
    assert!(d.said().contains("The repair is kept"), "{}", d.said());
    assert_eq!(repairs(&d), 1);
}

#[test]
fn a_pair_that_is_not_collected_is_not_repaired() {
    let mut d = Driver::signed_in(&[scenario("S01")["job"].clone()]);
    d.keys(&["enter", "f2"]);
    assert!(
        d.said().contains("only a collected pair is repaired"),
        "{}",
        d.said()
    );
}

#[test]
fn on_the_command_line_a_repair_is_kept_and_a_second_pair_begun() {
    let d = Driver::with(&[collected(&json!([]))]);
    let run = |arguments: &[&str]| {
        let out = Command::new(env!("CARGO_BIN_EXE_rimbook"))
            .args(arguments)
            .env("RIMBOOK_DB", &d.path)
            .env("RIMBOOK_TODAY", "2026-11-25")
            .output()
            .unwrap();
        (
            out.status.code().unwrap(),
            String::from_utf8(out.stdout).unwrap() + &String::from_utf8(out.stderr).unwrap(),
        )
    };
    let (status, said) = run(&[
        "repair",
        "1003",
        "--kind",
        "sides set",
        "--note",
        "slipped",
        "--set",
        "right.length_to_bend_mm=94",
        "--as",
        "Nadia Brookwell",
    ]);
    assert_eq!(status, 0, "{said}");
    let (_, shown) = run(&["show", "1003"]);
    assert!(
        shown.contains("bend R 94 L 96 mm from 2026-11-25"),
        "{shown}"
    );
    let (status, said) = run(&[
        "repair",
        "1003",
        "--kind",
        "sides set",
        "--set",
        "right.x=1",
        "--as",
        "Nadia Brookwell",
    ]);
    assert_eq!(status, 1, "{said}");
    let (status, said) = run(&[
        "begin",
        "1003",
        "--for",
        "second pair",
        "--as",
        "Ines Calloway",
    ]);
    assert_eq!(status, 0, "{said}");
    assert!(
        said.contains(
            "not carried: right fitting height 19, left fitting height 19, right vertex distance 12"
        ),
        "{said}"
    );
    let (status, _) = run(&["begin", "1003", "--for", "new", "--as", "Ines Calloway"]);
    assert_eq!(status, 2);
    let (status, aloud) = run(&["show", "1003", "--aloud"]);
    assert_eq!(status, 0);
    assert!(
        aloud.contains("Right eye: sphere minus zero point five zero."),
        "{aloud}"
    );
    assert!(
        aloud.contains("Length to bend now: right nine four millimetres, left nine six millimetres, since two five November"),
        "{aloud}"
    );
}

#[test]
fn a_repair_has_a_day_between_the_handover_and_today() {
    let driver = Driver::with(&[collected(&json!([]))]);
    let mut desk = Desk::open(&driver.path, clock()).unwrap();
    let before = desk.load("1003").unwrap();
    for (given_on, on, says) in [
        (
            "2026-10-01",
            "2026-09-30",
            "before the handover on 2026-10-01",
        ),
        ("2026-10-01", "2026-10-13", "today is 2026-10-12"),
        ("2026-10-01", "2026-10-01", ""),
        ("2026-10-01", "2026-10-12", ""),
    ] {
        desk.record(
            "1003",
            Section::Handover,
            &json!({"given_on": given_on}),
            None,
            None,
        )
        .unwrap();
        let repair: Repair = serde_json::from_value(
            json!({"on": on, "kind": "sides set", "right": {"vertex_mm": 9}}),
        )
        .unwrap();
        match desk.add_repair("1003", "Ines Calloway", repair) {
            Ok(_) => assert_eq!(says, "", "{on}"),
            Err(e) => assert!(!says.is_empty() && e.message.contains(says), "{e}"),
        }
    }
    let repairs = desk.load("1003").unwrap().job.aftercare.repairs;
    assert_eq!(repairs.len(), before.job.aftercare.repairs.len() + 2);
}
