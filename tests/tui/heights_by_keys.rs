//! Heights read again after an adjustment, by keys: at the form, in the collections, by undo, by copying
//! and stepping.

use crate::driver::{Driver, clock, scenario, verify};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::Section;
use rimbook::testing::trade::eye::Eye;
use serde_json::{Value, json};

/// One verified pair in its form, at the handover.
fn in_form(jobs: usize) -> Driver {
    let mut file = scenario("S01")["job"].clone();
    file["collection_at"] = json!("2026-10-12T15:30");
    file["order"]["due_on"] = json!("2026-10-12");
    let files: Vec<Value> = (0..jobs)
        .map(|at| {
            let mut file = file.clone();
            file["wearer"]["name"] = json!(format!("Wearer {at}"));
            file
        })
        .collect();
    let d = Driver::signed_in(&files);
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    let by = "Ines Calloway";
    for number in desk.numbers().unwrap() {
        assert!(!verify(&mut desk, &number, by), "one order, not two alike");
    }
    d
}

fn open_form(d: &mut Driver) {
    d.run(vec![rimbook::testing::tui::effect::Effect::Reload]);
    d.keys(&["enter", "alt-8"]);
    assert!(
        d.screen(80, 24).contains("handover"),
        "{}",
        d.screen(80, 24)
    );
}

fn to(d: &mut Driver, row: &str) {
    for _ in 0..40 {
        d.keys(&["up"]);
    }
    for _ in 0..60 {
        if d.screen(80, 24).contains(row) {
            // To the column of the right eye.
            d.keys(&["left"]);
            return;
        }
        d.keys(&["down"]);
    }
    panic!("{row}: {}", d.screen(80, 24));
}

fn marks(d: &Driver) -> Option<Vec<Eye>> {
    d.in_book().job.handover.adjusted_after_heights
}

fn record(d: &mut Driver, number: &str, change: &Value) {
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    desk.record(
        number,
        Section::Handover,
        change,
        None,
        Some("Nadia Brookwell"),
    )
    .unwrap();
    drop(desk);
    let number = number.to_owned();
    d.run(vec![rimbook::testing::tui::effect::Effect::Open(number)]);
}

#[test]
fn by_keys_taking_back_a_cleared_height_asks_for_it_again_and_typing_it_gives_it() {
    let mut d = in_form(1);
    open_form(&mut d);
    to(&mut d, ">height on the face");
    d.keys(&["19", "enter"]);
    to(&mut d, ">height on the face");
    d.keys(&["91", "enter", "ctrl-u"]);
    assert_eq!(marks(&d), None, "a slip of the fingers is no adjustment");
    to(&mut d, ">height on the face");
    d.keys(&["delete"]);
    let number = d.in_book().number;
    assert!(d.in_book().job.handover.right.height_mm.is_none());
    // Adjusted elsewhere: no height stands, so none is marked.
    record(&mut d, &number, &json!({"stays": false}));
    record(&mut d, &number, &json!({"stays": true}));
    assert_eq!(marks(&d), None);
    d.keys(&["ctrl-u"]);
    assert!(d.in_book().job.handover.right.height_mm.is_some());
    assert_eq!(marks(&d), Some(vec![Eye::Right]));
    to(&mut d, ">height on the face");
    d.keys(&["enter", "enter"]);
    assert_eq!(marks(&d), Some(vec![Eye::Right]), "looked at is not read");
    to(&mut d, ">height on the face");
    d.keys(&["19", "enter"]);
    assert_eq!(marks(&d), None, "the same once more is read again");
}

#[test]
fn a_mark_outlives_the_height_it_was_about() {
    let mut d = in_form(1);
    open_form(&mut d);
    let number = d.in_book().number;
    record(
        &mut d,
        &number,
        &json!({"stays": false, "right": {"height_mm": 19}}),
    );
    record(&mut d, &number, &json!({"stays": true}));
    record(&mut d, &number, &json!({"right": {"height_mm": null}}));
    assert_eq!(marks(&d), Some(vec![Eye::Right]));
    let desk = Desk::open(&d.path, clock()).unwrap();
    let said = desk
        .findings(&d.in_book(), rimbook::testing::job::Gate::Collected)
        .unwrap();
    let held = said
        .iter()
        .find(|f| f.check == "heights-before-adjusting")
        .unwrap();
    assert!(
        held.message.contains("is cleared now: read it"),
        "{}",
        held.message
    );
}

#[test]
fn what_another_has_written_since_is_not_taken_back() {
    let mut d = in_form(1);
    open_form(&mut d);
    to(&mut d, ">height on the face");
    d.keys(&["18", "enter"]);
    let number = d.in_book().number;
    record(&mut d, &number, &json!({"right": {"height_mm": 20}}));
    d.keys(&["ctrl-u"]);
    let height = d.in_book().job.value_at("handover.right.height_mm");
    assert_eq!(height.and_then(|h| h.as_f64()), Some(20.0));
    assert!(d.said().contains("was changed since"), "{}", d.said());
}

#[test]
fn an_answer_in_the_collections_is_not_taken_back_in_the_form_of_another_pair() {
    let mut d = in_form(2);
    open_form(&mut d);
    let in_form = d.in_book().number;
    d.keys(&["esc"]);
    d.keys(&["c"]);
    let lines = &d.collections().lines;
    assert_eq!(lines.len(), 2, "{}", d.screen(80, 24));
    let other = lines.iter().find(|l| l.number != in_form).unwrap();
    let other = other.number.clone();
    if d.collections().lines[d.collections().selected].number == in_form {
        d.keys(&["tab"]);
    }
    let at = rimbook::testing::tui::screens::collections::steps_now(d.app.seen())
        .iter()
        .position(|s| s.path == "handover.pads_level")
        .unwrap();
    d.collections_mut().step = at;
    d.keys(&["y"]);
    let handover = |number: &str| {
        let desk = Desk::open(&d.path, clock()).unwrap();
        desk.load(number).unwrap().job.handover
    };
    assert_eq!(handover(&other).pads_level, Some(true));
    let before = handover(&in_form);
    assert_eq!(
        d.app.job.as_ref().map(|j| j.open.number.clone()),
        Some(in_form.clone())
    );
    assert_eq!(d.app.job.as_ref().map(|j| j.undo.len()), Some(0));
    assert_eq!(handover(&in_form), before);
}

#[test]
fn history_says_which_heights_a_change_of_the_frame_left_behind() {
    let mut d = in_form(1);
    open_form(&mut d);
    let number = d.app.job.as_ref().unwrap().open.number.clone();
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    let not_carried = |desk: &Desk| {
        let history = desk.history(&number).unwrap();
        history.last().unwrap().detail["heights_to_read_again"].clone()
    };
    let by = Some("Ines Calloway");
    let pads = json!({"pads": {"size_mm": 14}});
    desk.record(&number, Section::Frame, &pads, None, by)
        .unwrap();
    let heights = json!({"right": {"height_mm": 20}, "left": {"height_mm": 21}});
    desk.record(&number, Section::Handover, &heights, None, by)
        .unwrap();
    assert_eq!(not_carried(&desk), Value::Null, "read, nothing adjusted");
    // Other pads: the change is of the frame alone, the heights of both eyes go with it.
    let pads = json!({"pads": {"size_mm": 15}});
    desk.record(&number, Section::Frame, &pads, None, by)
        .unwrap();
    let marked = desk.load(&number).unwrap().job.handover;
    assert_eq!(
        marked.adjusted_after_heights.as_deref(),
        Some(&Eye::BOTH[..])
    );
    assert_eq!(not_carried(&desk), json!(["right", "left"]));
    // Said once: what was marked before is not marked by the next change.
    let pads = json!({"pads": {"size_mm": 13}});
    desk.record(&number, Section::Frame, &pads, None, by)
        .unwrap();
    assert_eq!(not_carried(&desk), Value::Null);
    // An answer of the handover that moves the lenses says it as well.
    let again =
        json!({"right": {"height_mm": 20}, "left": {"height_mm": 21}, "no_pressure_marks": true});
    desk.record(&number, Section::Handover, &again, None, by)
        .unwrap();
    let pressed = json!({"no_pressure_marks": false});
    desk.record(&number, Section::Handover, &pressed, None, by)
        .unwrap();
    assert_eq!(not_carried(&desk), json!(["right", "left"]));
}

/// Marked, the design changed, the other height read, the design changed back: the first height was
/// read before the adjustment still.
#[test]
fn by_keys_copying_and_stepping_are_no_reading() {
    let mut d = in_form(1);
    open_form(&mut d);
    let number = d.in_book().number;
    let heights = json!({"stays": false, "right": {"height_mm": 19}, "left": {"height_mm": 18}});
    record(&mut d, &number, &heights);
    record(&mut d, &number, &json!({"stays": true}));
    let both = Some(Eye::BOTH.to_vec());
    assert_eq!(marks(&d), both);
    to(&mut d, ">height on the face");
    // Opened and not typed in, the value is still the old one.
    for keys in [
        &["="][..],
        &["ctrl-up"],
        &["ctrl-down"],
        &["enter", "ctrl-up", "esc"],
    ] {
        d.keys(keys);
        assert_eq!(marks(&d), both, "{keys:?}");
        let height = d.in_book().job.value_at("handover.right.height_mm");
        assert_eq!(height.and_then(|h| h.as_f64()), Some(19.0), "{keys:?}");
        assert!(
            d.said()
                .contains("right is to be read again: read it and type it")
                || keys.len() > 1,
            "{keys:?}: {}",
            d.said()
        );
    }
    // Read and typed, it may be stepped; the other eye's is not to be had by copying it.
    d.keys(&["19", "ctrl-up", "enter"]);
    assert_eq!(marks(&d), Some(vec![Eye::Left]));
    to(&mut d, ">height on the face");
    d.keys(&["="]);
    assert_eq!(
        d.in_book()
            .job
            .value_at("handover.right.height_mm")
            .and_then(|h| h.as_f64()),
        Some(19.5),
        "a height that is to be read again is not copied from, either: {}",
        d.said()
    );
    assert!(
        d.said().contains("left is to be read again"),
        "{}",
        d.said()
    );
    d.keys(&["right", "18", "enter"]);
    assert_eq!(marks(&d), None);
    to(&mut d, ">height on the face");
    d.keys(&["="]);
    assert_eq!(
        d.in_book()
            .job
            .value_at("handover.right.height_mm")
            .and_then(|h| h.as_f64()),
        Some(18.0),
        "both were read"
    );
}
