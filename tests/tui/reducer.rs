//! Key sequences through the real keys and the real reducer, over a real book.

use crate::driver::{Driver, assistant, clock, scenario, to_field, value};
use proptest::prelude::*;
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::Stage;
use rimbook::testing::tui::Screen;
use rimbook::testing::tui::action::{ACTIONS, Action, Scope};
use rimbook::testing::tui::key::{Code, Key, NAMED};
use rimbook::testing::tui::keymap::{Keymap, KeymapError};
use rimbook::testing::tui::update::Input;
use serde_json::json;

fn job(id: &str) -> serde_json::Value {
    scenario(id)["job"].clone()
}

#[test]
fn keys_do_what_the_table_says() {
    // Keys pressed in the prescription of a new job, the field looked at, what the book then has.
    let cases: &[(&[&str], &str, &str)] = &[
        (&["-2.25", "enter"], "prescription.right.sphere_d", "-2.25"),
        (
            &["-2.25", "tab", "+1", "enter"],
            "prescription.left.sphere_d",
            "+1.00",
        ),
        (&["-2.25", "esc"], "prescription.right.sphere_d", ""),
        (
            &["-2.25", "tab", "="],
            "prescription.left.sphere_d",
            "-2.25",
        ),
        (
            &["-2.25", "enter", "ctrl-u"],
            "prescription.right.sphere_d",
            "",
        ),
        (
            &["-2.25", "ctrl-u", "-3", "enter"],
            "prescription.right.sphere_d",
            "-3.00",
        ),
        (
            &["-2.25", "ctrl-up", "enter"],
            "prescription.right.sphere_d",
            "-2.00",
        ),
        (
            &["-2.25", "enter", "shift-tab", "ctrl-down"],
            "prescription.right.sphere_d",
            "-2.50",
        ),
        (
            &["-2.25", "enter", "shift-tab", "delete"],
            "prescription.right.sphere_d",
            "",
        ),
    ];
    for (keys, path, expected) in cases {
        let mut d = Driver::signed_in(&[]);
        d.keys(&["n", "Ada Blom", "enter", "alt-2"]);
        to_field(&mut d, "prescription.right.sphere_d");
        d.keys(keys);
        assert_eq!(
            value(&d, path),
            *expected,
            "{keys:?} and then {path}; said {:?}",
            d.said()
        );
    }
}

/// Types a value into a field.
pub fn enter(d: &mut Driver, path: &str, text: &str) {
    to_field(d, path);
    d.keys(&[text, "enter"]);
    let edit = d.app.states.form().unwrap().edit();
    assert!(edit.is_none(), "{path} {text:?}: {edit:?}");
}

#[test]
fn a_refused_entry_keeps_what_was_typed_and_says_what_to_type() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["enter"]);
    to_field(&mut d, "prescription.right.sphere_d");
    d.keys(&["-2.2", "enter"]);
    let edit = d
        .app
        .states
        .form()
        .and_then(|f| f.edit())
        .cloned()
        .expect("still typed");
    assert_eq!(edit.line.text(), "-2.2");
    assert!(
        edit.error.unwrap().contains("-2.25"),
        "says a power that can be typed"
    );
    assert_eq!(value(&d, "prescription.right.sphere_d"), "-0.50");
}

#[test]
fn a_whole_prescription_typed_in_one_power_fills_the_row() {
    let mut d = Driver::signed_in(&[]);
    d.keys(&["n", "Ada Blom", "enter", "alt-2"]);
    enter(
        &mut d,
        "prescription.right.sphere_d",
        "-2.25/-0.75x90 add +2.00",
    );
    assert_eq!(value(&d, "prescription.right.sphere_d"), "-2.25");
    assert_eq!(value(&d, "prescription.right.cylinder_d"), "-0.75");
    assert_eq!(value(&d, "prescription.right.axis_deg"), "90");
    assert_eq!(value(&d, "prescription.right.addition_d"), "2.00");
}

#[test]
fn a_paste_goes_to_the_entry_only_and_becomes_one_line() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.input(Input::Paste("q\nn\n".to_owned()));
    assert_eq!((d.app.screen, d.app.quit), (Screen::Worklist, false));
    d.keys(&["enter"]);
    to_field(&mut d, "wearer.notes");
    d.input(Input::Paste("reads\nat a desk\u{1b}[2J".to_owned()));
    assert_eq!(
        d.app
            .states
            .form()
            .and_then(|f| f.edit())
            .unwrap()
            .line
            .text(),
        "reads at a desk[2J"
    );
}

#[test]
fn what_was_typed_is_there_again_after_the_program_ended() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["enter"]);
    to_field(&mut d, "fitting.left.vertex_mm");
    d.keys(&["13.5"]);
    let mut again = Driver::on(d.path.clone());
    again.keys(&["enter"]);
    let edit = again
        .app
        .states
        .form()
        .and_then(|f| f.edit())
        .cloned()
        .expect("taken up again");
    assert_eq!(
        (edit.path.as_str(), edit.line.text()),
        ("fitting.left.vertex_mm", "13.5")
    );
    again.keys(&["enter", "enter"]);
    assert_eq!(value(&again, "fitting.left.vertex_mm"), "13.5");
    let third = Driver::on(d.path.clone());
    assert!(third.app.job.is_none(), "nothing is left to take up");
}

#[test]
fn nobody_records_without_saying_who() {
    let mut d = Driver::with(&[job("S01")]);
    d.keys(&["enter"]);
    to_field(&mut d, "wearer.phone");
    d.keys(&["0123", "enter"]);
    assert!(d.app.dialog.is_some(), "asks who");
    d.keys(&["esc"]);
    assert_eq!(value(&d, "wearer.phone"), "");
    assert_eq!(
        d.app
            .states
            .form()
            .and_then(|f| f.edit())
            .unwrap()
            .line
            .text(),
        "0123"
    );
    d.keys(&["enter", "down", "enter"]);
    assert_eq!(value(&d, "wearer.phone"), "0123");
    assert_eq!(d.app.person.as_deref(), Some("Nadia Brookwell"));
    let by = Desk::open(&d.path, clock())
        .unwrap()
        .history(&d.in_book().number)
        .unwrap();
    assert_eq!(by.last().unwrap().by.as_deref(), Some("Nadia Brookwell"));
}

#[test]
fn a_job_goes_from_the_measurements_to_the_face_by_keys_alone() {
    let mut file = job("S01");
    file["collection_at"] = json!("2026-10-12T15:30");
    file["order"]["due_on"] = json!("2026-10-12");
    let mut d = Driver::signed_in(&[file]);
    d.keys(&["enter", "ctrl-g", "m"]);
    assert_eq!(d.in_book().job.stage(), Stage::Ordered, "{}", d.said());
    d.keys(&["m"]);
    assert_eq!(
        d.in_book().job.stage(),
        Stage::Ordered,
        "nothing is read yet"
    );
    assert!(d.said().contains("Not moved"), "{}", d.said());
    d.keys(&["esc"]);
    for (path, text) in [
        ("taken_by", "Ines Calloway"),
        ("taken_on", "today"),
        ("right.sphere_d", "-0.50"),
        ("right.cd_mm", "31.5"),
        ("right.height_mm", "19"),
        ("right.centre_mm", "2.2"),
        ("right.base_d", "4"),
        ("left.sphere_d", "-0.75"),
        ("left.cylinder_d", "-0.25"),
        ("left.axis_deg", "90"),
        ("left.cd_mm", "31"),
        ("left.height_mm", "19"),
        ("left.centre_mm", "2.2"),
        ("left.base_d", "4"),
        ("right.base_in_delta", "0"),
        ("right.base_up_delta", "0"),
        ("left.base_in_delta", "0"),
        ("left.base_up_delta", "0"),
        ("surface", "clean"),
        ("markings", "correct"),
        ("material_confirmed", "yes"),
        ("coatings_confirmed", "yes"),
        ("tint_confirmed", "yes"),
        ("frame_trued", "yes"),
        ("mounting_sound", "yes"),
    ] {
        enter(&mut d, &format!("readings.{path}"), text);
    }
    d.keys(&["ctrl-g", "m"]);
    let open = d.in_book();
    assert_eq!(
        open.job.stage(),
        Stage::Verified,
        "{} {:?}",
        d.said(),
        d.app.job.as_ref().unwrap().findings
    );
    d.keys(&["esc", "esc", "c"]);
    assert_eq!(
        (d.app.screen, d.collections().lines.len()),
        (Screen::Collections, 1)
    );
    // In the order of the dispensing table: in person, who, frame, bridge, width, let-back, angles, sides.
    d.keys(&["y", "y", "y", "y", "y", "y", "7", "enter", "4", "enter"]);
    d.keys(&["96", "enter", "96", "enter", "y", "y", "y", "y"]);
    d.keys(&["12", "enter", "12", "enter", "19", "enter", "19", "enter"]);
    d.keys(&["enter", "6/6", "enter", "enter", "N5", "enter"]);
    // What is asked only of some is answered by whoever it is asked of.
    for _ in 0..40 {
        let steps = rimbook::testing::tui::screens::collections::steps_now(d.app.seen());
        let step = steps[d.collections().step].clone();
        match step.path {
            "handover.collected_by" => break,
            "handover.wearer_words" | "handover.intermediate_acuity" => d.keys(&["down"]),
            _ => d.keys(&["y"]),
        };
    }
    d.keys(&["Maribel Thorncroft", "enter", "ctrl-g", "m"]);
    let open = d.in_book();
    assert_eq!(
        open.job.stage(),
        Stage::Collected,
        "{} {:?}",
        d.said(),
        d.app.job.as_ref().unwrap().findings
    );
    assert_eq!(open.job.handover.given_by.as_deref(), Some("Ines Calloway"));
}

#[test]
fn a_warning_is_accepted_with_a_reason_by_a_role_that_may() {
    // The prescription of S12 is past its time: a warning that a registered person may accept.
    let mut d = Driver::signed_in(&[job("S12")]);
    d.keys(&["g"]);
    let findings = &d.app.job.as_ref().unwrap().findings;
    let place = findings
        .iter()
        .position(|f| f.check == "rx-expired")
        .expect("the finding");
    for _ in 0..place {
        d.keys(&["down"]);
    }
    d.keys(&["a", "enter"]);
    assert!(d.app.dialog.is_some(), "a reason is asked for");
    d.keys(&["the prescriber was telephoned", "enter"]);
    let settled = d
        .app
        .job
        .as_ref()
        .unwrap()
        .findings
        .iter()
        .any(|f| f.check == "rx-expired" && f.settled.is_some());
    assert!(settled, "{}", d.said());
    d.keys(&["w", "down", "enter"]);
    assert_eq!(d.app.person, Some(assistant().name));
}

#[test]
fn an_assistant_cannot_accept_and_is_told_who_may() {
    let mut d = Driver::with(&[job("S12")]);
    d.keys(&["w", "down", "enter", "g"]);
    let findings = &d.app.job.as_ref().unwrap().findings;
    let place = findings
        .iter()
        .position(|f| f.check == "rx-expired")
        .expect("the finding");
    for _ in 0..place {
        d.keys(&["down"]);
    }
    d.keys(&["a", "because", "enter"]);
    assert!(d.in_book().acceptances.is_empty());
    assert!(d.said().contains("assistant"), "{}", d.said());
}

#[test]
fn a_question_to_the_prescriber_holds_the_job_until_it_is_answered() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&["g", "p", "Is the addition meant?", "enter", "m"]);
    assert_eq!(d.in_book().job.stage(), Stage::Measured);
    assert!(!d.in_book().questions.is_empty());
    d.keys(&["r", "No.", "enter", "m"]);
    assert_eq!(d.in_book().job.stage(), Stage::Ordered, "{}", d.said());
}

#[test]
fn of_two_questions_the_answer_is_chosen_for_one() {
    let mut d = Driver::signed_in(&[job("S01")]);
    d.keys(&[
        "g",
        "l",
        "Which coating?",
        "enter",
        "p",
        "Is it 90?",
        "enter",
    ]);
    assert_eq!(d.in_book().questions.len(), 2);
    d.keys(&["l"]);
    assert!(d.said().contains("Which coating?"), "{}", d.said());
    d.keys(&["r"]);
    let seen = d.screen(80, 24);
    assert!(seen.contains("laboratory: Which coating?"), "{seen}");
    d.keys(&["down", "enter", "Yes.", "enter"]);
    let questions = d.in_book().questions;
    assert_eq!(questions.len(), 1);
    assert_eq!(questions[0].text, "Which coating?");
    d.keys(&["r", "Hard.", "enter", "m"]);
    assert_eq!(d.in_book().job.stage(), Stage::Ordered, "{}", d.said());
}

#[test]
fn the_look_up_finds_while_typing_and_opens() {
    let mut d = Driver::signed_in(&[job("S01"), job("S05")]);
    d.keys(&["/", "thornc"]);
    assert_eq!(d.app.states.lookup().unwrap().found.len(), 1);
    let card = d.app.card.as_ref().expect("a card while typing");
    assert_eq!(card.job.wearer.name.as_deref(), Some("Maribel Thorncroft"));
    d.keys(&["enter"]);
    assert_eq!(d.app.screen, Screen::Job);
    d.keys(&["esc"]);
    assert_eq!(d.app.screen, Screen::Lookup);
}

#[test]
fn enter_at_the_gate_goes_to_the_field_of_the_finding() {
    let mut file = job("S01");
    file["fitting"]["right"]
        .as_object_mut()
        .unwrap()
        .remove("cd_mm");
    let mut d = Driver::signed_in(&[file]);
    d.keys(&["g"]);
    let job = d.app.job.as_ref().unwrap();
    let place = job
        .findings
        .iter()
        .position(|f| f.field.starts_with("fitting.right"))
        .expect("a finding");
    let path = job.findings[place].field.clone();
    for _ in 0..place {
        d.keys(&["down"]);
    }
    d.keys(&["enter"]);
    let form = d.app.states.form().unwrap();
    assert_eq!(d.app.screen, Screen::Job);
    assert_eq!(form.field().unwrap().full_path(), path);
}

#[test]
fn the_first_person_of_a_new_book_is_registered() {
    let dir = tempfile::tempdir().unwrap();
    let mut d = Driver::on(dir.path().join("new.db"));
    assert_eq!(d.app.screen, Screen::Welcome);
    d.keys(&["enter", "Ines Calloway", "enter"]);
    let shown = d.screen(80, 24);
    assert!(
        shown.contains("optometrist") && !shown.contains("assistant"),
        "{shown}"
    );
    d.keys(&["enter", "R2041", "enter"]);
    assert_eq!(d.app.screen, Screen::Worklist);
    assert_eq!(d.app.person.as_deref(), Some("Ines Calloway"));
    // Sign-in is offered, and may be skipped.
    d.keys(&["esc", "n", "Ada Blom", "enter"]);
    assert_eq!(d.app.screen, Screen::Job);
}

#[test]
fn a_key_file_changes_keys_and_unknown_names_are_refused() {
    let map = Keymap::with_file("open-gate = \"G\"\nnew-job = [\"f2\", \"ctrl-n\"]").unwrap();
    assert_eq!(
        map.action(Scope::Worklist, Key::char('G')),
        Some(Action::OpenGate)
    );
    assert_eq!(map.action(Scope::Worklist, Key::char('g')), None);
    assert_eq!(map.shown(Action::NewJob).as_deref(), Some("f2"));
    assert_eq!(
        Keymap::with_file("opne = \"G\"").unwrap_err(),
        KeymapError::Action("opne".to_owned())
    );
    assert!(matches!(
        Keymap::with_file("open = \"entr\""),
        Err(KeymapError::Key { .. })
    ));
    assert!(matches!(
        Keymap::with_file("new-job = \"g\""),
        Err(KeymapError::Twice { .. })
    ));
    // A key of one screen would leave the help without any key there.
    assert!(matches!(
        Keymap::with_file("help = \"f9\""),
        Err(KeymapError::Twice { first: "help", .. })
    ));
    assert!(Keymap::with_file("help = [\"f9\", \"?\"]").is_ok());
}

#[test]
fn every_action_has_its_own_name_and_every_default_key_is_a_key() {
    for (i, e) in ACTIONS.iter().enumerate() {
        assert!(
            ACTIONS.iter().skip(i + 1).all(|o| o.id != e.id),
            "{} twice",
            e.id
        );
        assert!(e.help.ends_with('.'), "{}: a sentence", e.id);
        for key in e.keys {
            assert_eq!(Key::parse(key).unwrap().to_string(), *key);
        }
    }
    Keymap::with_file("").expect("the default keys do not collide");
}

fn any_key() -> impl Strategy<Value = Key> {
    let code = prop_oneof![
        4 => prop::sample::select(NAMED).prop_map(Code::Named),
        4 => prop::sample::select("abcdefghijklmnoprstuvwxyz0123456789/+-.=?:[]".chars().collect::<Vec<_>>()).prop_map(Code::Char),
        1 => any::<char>().prop_map(Code::Char),
    ];
    (code, prop::bool::weighted(0.1), prop::bool::weighted(0.15))
        .prop_map(|(code, ctrl, alt)| Key { code, ctrl, alt })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn no_row_of_keys_breaks_the_screens(keys in prop::collection::vec(any_key(), 200)) {
        let mut d = Driver::signed_in(&[job("S01"), job("S07")]);
        for (i, key) in keys.into_iter().enumerate() {
            d.press(key);
            d.app.quit = false;
            if i % 10 == 0 {
                d.screen(80, 24);
            }
        }
    }
}

#[test]
fn in_a_window_in_which_nothing_is_drawn_no_key_does_anything_but_leave() {
    let mut d = Driver::with(&[scenario("S01")["job"].clone()]);
    d.keys(&["enter", "1", "2"]);
    let before = d.screen(80, 24);
    d.input(Input::Window(59, 24));
    d.keys(&["3", "enter", "esc", "l"]);
    d.input(Input::Paste("44".to_owned()));
    d.input(Input::Window(80, 24));
    assert_eq!(d.screen(80, 24), before);
    d.input(Input::Window(80, 15));
    d.keys(&["ctrl-q"]);
    assert!(d.app.quit);
}
