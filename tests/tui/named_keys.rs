//! Sentences name the keys that are in force, by a key file that changes them.

use crate::driver::{Driver, clock, scenario, to_field};
use crate::parcel_book::{book, ordered, taken_up};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::Section;
use rimbook::testing::tui::Screen;
use rimbook::testing::tui::keymap::Keymap;
use rimbook::testing::tui::update::Input;
use serde_json::{Value, json};

const BY: &str = "Ines Calloway";

/// Keys of which none is the program's own.
const FILE: &str = r#"
commit = "f11"
commit-next = "alt-x"
commit-previous = "alt-z"
restore = "f12"
back = "ctrl-b"
take-up = "alt-w"
tick = "alt-k"
"#;

fn remapped(mut d: Driver) -> Driver {
    d.app.keymap = Keymap::with_file(FILE).unwrap();
    d
}

/// Asserts that the line above the hints has some words, and names none of the program's own keys.
#[track_caller]
fn says(d: &Driver, words: &str) {
    let said = d.said();
    assert!(said.contains(words), "{words}: {said:?}");
    for key in ["enter", "esc", "tab", "shift-tab"] {
        let named = said
            .split(|c: char| !c.is_alphanumeric() && c != '-')
            .any(|w| w.eq_ignore_ascii_case(key));
        assert!(!named, "{key}: {said}");
    }
}

/// The form of a job with the cursor on its right vertex distance.
fn form() -> Driver {
    let mut d = Driver::signed_in(&[scenario("S01")["job"].clone()]);
    d.keys(&["enter"]);
    to_field(&mut d, "fitting.right.vertex_mm");
    remapped(d)
}

#[test]
fn what_holds_the_gate_back_names_the_key_that_drops_the_entry() {
    let mut d = form();
    d.keys(&["9999", "ctrl-g"]);
    says(&d, "Correct it, or f12 drops it.");
    d.keys(&["f12"]);
    assert_eq!(d.app.screen, Screen::Job);
    assert!(d.app.states.form().and_then(|f| f.edit()).is_none());
}

#[test]
fn a_job_changed_elsewhere_names_the_key_that_keeps_what_was_typed() {
    let mut d = form();
    d.keys(&["14"]);
    let number = d.app.job.as_ref().unwrap().open.number.clone();
    Desk::open(&d.path, clock())
        .unwrap()
        .record(
            &number,
            Section::Fitting,
            &json!({"right": {"vertex_mm": 13}}),
            None,
            Some(BY),
        )
        .unwrap();
    d.keys(&["f11"]);
    says(&d, "look, then f11 keeps it.");
    d.keys(&["f11"]);
    assert!(
        d.app.states.form().and_then(|f| f.edit()).is_none(),
        "{}",
        d.said()
    );
    assert_eq!(crate::driver::value(&d, "fitting.right.vertex_mm"), "14");
}

#[test]
fn a_key_that_does_nothing_while_something_is_typed_names_those_that_do() {
    let mut d = form();
    d.keys(&["14", "f9"]);
    says(&d, "f11 keeps it, f12 drops it.");
}

#[test]
fn an_entry_found_again_names_the_keys_of_an_entry() {
    let mut d = form();
    d.keys(&["14"]);
    let number = d.app.job.as_ref().unwrap().open.number.clone();
    d.input(Input::Scanned(number));
    says(&d, "f11 keeps it, f12 drops it.");

    let mut again = remapped(Driver::on(d.path.clone()));
    again.keys(&["w", "enter", "enter"]);
    says(&again, "f11 keeps it, f12 drops it.");
}

#[test]
fn the_parcel_names_the_keys_that_take_a_pair_up_and_keep_a_reading() {
    let mut d = book(&[ordered("Iolo Penhaligon", "2026-10-12")]);
    d.keys(&["p"]);
    d = remapped(d);
    for key in ["m", "v"] {
        d.keys(&[key]);
        says(&d, "press alt-w.");
    }
    d.app.keymap = Keymap::default();
    d.keys(&["esc"]);
    taken_up(&mut d);
    d = remapped(d);
    d.keys(&["-3.75"]);
    d.app.person = None;
    d.keys(&["f11"]);
    says(&d, "First say who reads; then f11 keeps it.");
}

/// The visit about a collected pair, on the page of its outcome.
fn outcome() -> Driver {
    let mut job = scenario("S01")["job"].clone();
    job["past"] = json!(true);
    job["stage"] = json!("collected");
    job["number"] = json!("P-1");
    let mut d = Driver::signed_in(&[job]);
    Desk::open(&d.path, clock())
        .unwrap()
        .recheck("P-1", BY)
        .unwrap();
    d.input(Input::Poll);
    d.keys(&["enter", "alt-v"]);
    let mut d = remapped(d);
    d.keys(&["alt-k"]);
    says(&d, "ctrl-b goes there.");
    d.keys(&["shift-tab"]);
    d
}

#[test]
fn an_entry_of_the_visit_has_the_keys_of_the_form_and_names_them() {
    let mut d = outcome();
    d.keys(&["down", "pads pin"]);
    let shown = d.screen(80, 24);
    assert!(
        shown.contains("f11 keep") && shown.contains("f12 restore"),
        "{shown}"
    );
    d.keys(&["enter"]);
    assert!(d.visit().edit().is_some(), "enter keeps nothing now");
    d.keys(&["esc"]);
    assert!(d.visit().edit().is_some(), "esc drops nothing now");

    let mut again = remapped(Driver::on(d.path.clone()));
    again.keys(&["w", "enter", "enter", "alt-v"]);
    says(&again, "f11 keeps it, f12 drops it.");
    again.keys(&["f12"]);
    assert!(again.visit().edit().is_none());

    d.keys(&["f11"]);
    assert!(d.visit().edit().is_none());
    assert_eq!(d.in_book().job.visit.found.as_deref(), Some("pads pin"));
    // One on from what was found lies the cause, then the outcome.
    d.keys(&["down", "alt-k", "waiting", "enter"]);
    says(&d, "f11 keeps both.");
    d.keys(&["+14", "f11"]);
    assert!(d.in_book().job.visit.review_on.is_some());
}

#[test]
fn the_keys_of_a_question_are_its_own_whatever_the_key_file_says() {
    let mut d = remapped(Driver::signed_in(&[]));
    d.keys(&["w"]);
    assert!(d.screen(80, 24).contains("enter take   esc leave"));
    d.keys(&["esc"]);
    assert!(d.app.dialog.is_none());
    d.keys(&["w", "down", "enter"]);
    assert_eq!(d.app.person.as_deref(), Some("Nadia Brookwell"));
}

/// Files whose sentences are about a question or the locked screen: their keys are no action's.
const OF_QUESTIONS: [&str; 5] = [
    "src/tui/question.rs",
    "src/tui/questions/",
    "src/tui/screens/collections/",
    "src/tui/shell/lock.rs",
    "src/tui/shell/scan.rs",
];

#[test]
fn no_other_sentence_has_a_key_written_into_it() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = Vec::new();
    let mut folders = [
        "src/tui",
        "src/book/desk",
        "src/job/fields",
        "src/judge/gate",
    ]
    .map(|f| root.join(f))
    .to_vec();
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            let name = path
                .strip_prefix(root)
                .unwrap()
                .to_string_lossy()
                .into_owned();
            if OF_QUESTIONS.iter().any(|f| name.starts_with(f)) {
                continue;
            }
            let text = std::fs::read_to_string(&path).unwrap();
            let code = text.lines().filter(|l| !l.trim_start().starts_with("//"));
            for line in code {
                // As keys are named in a sentence; "Enter first: …" is a verb.
                let names = |key: &str| {
                    line.match_indices(key).any(|(at, _)| {
                        let behind = line.get(at + key.len()..).unwrap_or_default();
                        [
                            " keep", " drop", " goes", " leave", " take", " open", ",", ".", ";",
                        ]
                        .iter()
                        .any(|w| behind.starts_with(w))
                    })
                };
                if ["Enter", "Esc", "Tab"].iter().any(|k| names(k)) {
                    found.push(format!("{name}: {}", line.trim()));
                }
            }
        }
    }
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn the_key_file_of_these_tests_leaves_no_key_of_an_entry_as_it_was() {
    let (own, file) = (Keymap::default(), Keymap::with_file(FILE).unwrap());
    let names: Value = toml::from_str(FILE).unwrap();
    for id in names.as_object().unwrap().keys() {
        let action = rimbook::testing::tui::action::Action::named(id).expect("an action");
        assert_ne!(own.keys_of(action), file.keys_of(action), "{id}");
    }
}
