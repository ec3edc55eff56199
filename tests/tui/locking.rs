//! The locked screen and the masked lines, by keys over a real book.

use crate::driver::{Driver, clock, scenario, to_field, value};
use crate::screens_say::says;
use proptest::prelude::*;
use rimbook::testing::book::desk::{Desk, Security};
use rimbook::testing::job::{Role, StaffMember};
use rimbook::testing::practice::Threshold;
use rimbook::testing::tui::Screen;
use rimbook::testing::tui::key::{Code, Key, NAMED};
use rimbook::testing::tui::update::Input;

const OPTICIAN: &str = "Ines Calloway";
const ASSISTANT: &str = "Nadia Brookwell";
const ON: Security = Security {
    sign_in: true,
    idle_minutes: 5,
};

fn job() -> serde_json::Value {
    scenario("S01")["job"].clone()
}

/// A book with sign-in on, and the screen that it starts with.
fn locked() -> (Driver, Driver) {
    let first = Driver::with(&[job()]);
    let mut desk = Desk::open(&first.path, clock()).unwrap();
    desk.set_secret(OPTICIAN, "4710", OPTICIAN).unwrap();
    desk.set_secret(ASSISTANT, "8253", ASSISTANT).unwrap();
    desk.set_security(ON, OPTICIAN).unwrap();
    let again = Driver::on(first.path.clone());
    (first, again)
}

fn assert_nothing_shown(d: &Driver) {
    for (width, height) in [(60, 16), (80, 24), (120, 40), (200, 60)] {
        let shown = d.screen(width, height);
        assert!(shown.contains("ocked"), "{shown}");
        for word in ["Maribel", "Thorncroft", "1001", "-2.2", "4710"] {
            assert!(!shown.contains(word), "{word}:\n{shown}");
        }
    }
}

#[test]
fn the_first_screen_is_the_lock_and_the_pin_opens_the_worklist() {
    let (_first, mut d) = locked();
    assert_nothing_shown(&d);
    assert!(d.app.lines.is_empty() && d.app.card.is_none());
    let at_the_lock = [
        "rimbook · locked · nobody signed in · Mon 12 Oct 2026",
        "Locked. Nothing of the book is shown before somebody signs in.",
        "> Ines Calloway, dispensing optician",
        "Nadia Brookwell, assistant",
        "PIN or passphrase:",
        "enter sign in up/down another name esc clear ctrl-c quit",
    ];
    says(&d.screen(80, 24), &at_the_lock);
    assert!(!d.screen(80, 24).contains('•'), "nothing is typed yet");
    d.keys(&["4710"]);
    says(&d.screen(120, 40), &at_the_lock);
    says(&d.screen(120, 40), &["PIN or passphrase: ••••"]);
    assert!(!format!("{:?}", d.app.lock).contains("4710"));
    d.keys(&["enter"]);
    let shown = d.screen(80, 24);
    assert!(shown.contains("Maribel Thorncroft"), "{shown}");
    assert!(shown.contains("Ines Calloway · "), "{shown}");
    assert!(!shown.contains("unproven") && !shown.contains("off: a name"));
}

#[test]
fn a_wrong_pin_is_said_and_then_the_wait_in_seconds() {
    let (_first, mut d) = locked();
    d.keys(&["enter"]);
    assert!(d.screen(80, 24).contains("Type the PIN"));
    for _ in 0..3 {
        d.keys(&["0001", "enter"]);
        assert!(
            d.screen(80, 24)
                .contains("the PIN or passphrase is not right")
        );
    }
    d.keys(&["4710", "enter"]);
    let shown = d.screen(80, 24);
    assert!(
        shown.contains("3 wrong attempts: the next is taken in"),
        "{shown}"
    );
    assert!(d.app.lock.is_some());
    assert_nothing_shown(&d);
    d.keys(&["down", "8253", "enter"]);
    assert_eq!(d.app.person.as_deref(), Some(ASSISTANT));
}

#[test]
fn the_pin_is_taken_for_the_name_chosen_though_the_list_of_people_has_changed() {
    let (_first, mut d) = locked();
    d.keys(&["down", "8253"]);
    let joined = StaffMember {
        name: "Abel Newman".to_owned(),
        role: Role::Assistant,
        registration: None,
        supervisor: None,
    };
    d.app.staff.0.insert(0, joined);
    let shown = d.screen(80, 24);
    assert!(shown.contains("> Nadia Brookwell"), "{shown}");
    d.keys(&["enter"]);
    assert_eq!(d.app.person.as_deref(), Some(ASSISTANT));
}

#[test]
fn what_was_typed_is_there_again_after_a_lock() {
    let (_first, mut d) = locked();
    d.keys(&["4710", "enter", "enter", "alt-2", "-2.2"]);
    let before = d.screen(80, 24);
    let typed = |d: &Driver| {
        let edit = d.app.states.form().and_then(|f| f.edit());
        edit.map(|e| (e.path.clone(), e.line.text().to_owned()))
    };
    let was = typed(&d);
    assert!(was.is_some());
    d.keys(&["ctrl-l"]);
    assert_nothing_shown(&d);
    assert!(d.screen(80, 24).contains("Ines Calloway was signed in"));
    insta::assert_snapshot!("locked_by_key_80x24", d.screen(80, 24));
    d.keys(&["4710", "enter"]);
    assert_eq!(typed(&d), was);
    d.app.notice = None;
    assert_eq!(d.screen(80, 24), before);
}

#[test]
fn somebody_else_begins_at_the_worklist_and_the_draft_stays() {
    let (_first, mut d) = locked();
    d.keys(&["4710", "enter", "enter", "alt-2", "-2.2", "ctrl-l"]);
    d.keys(&["down", "8253", "enter"]);
    assert_eq!(d.app.person.as_deref(), Some(ASSISTANT));
    assert_eq!(d.app.screen, Screen::Worklist);
    assert!(d.app.job.is_none() && d.app.dialog.is_none());
    // It is offered to whoever typed it, and to nobody else.
    let typed = |d: &Driver| {
        let edit = d.app.states.form().and_then(|f| f.edit());
        edit.map(|e| e.line.text().to_owned())
    };
    d.keys(&["enter"]);
    assert_eq!(typed(&d), None);
    assert!(!d.said().contains("typed earlier"), "{}", d.said());
    d.keys(&["ctrl-l", "up", "4710", "enter", "enter"]);
    assert_eq!(d.app.person.as_deref(), Some(OPTICIAN));
    assert_eq!(typed(&d).as_deref(), Some("-2.2"), "{}", d.screen(80, 24));
    // Only the key that keeps an entry keeps it: any other leaves it as it is.
    d.keys(&["alt-4"]);
    let sphere = d.in_book().job.prescription.right.sphere_d;
    assert_eq!(
        sphere.map(rimbook::testing::trade::units::Dioptre::get),
        Some(-0.5)
    );
    d.keys(&["esc", "enter"]);
    assert_eq!(typed(&d).as_deref(), Some("-2.2"));
}

#[test]
fn what_two_people_type_into_one_entry_is_never_put_together() {
    let (_first, mut d) = locked();
    d.keys(&["4710", "enter", "enter"]);
    to_field(&mut d, "wearer.phone");
    d.keys(&["57"]);
    let mut other = Driver::on(d.path.clone());
    other.keys(&["down", "8253", "enter", "enter"]);
    assert_eq!(other.app.person.as_deref(), Some(ASSISTANT));
    to_field(&mut other, "wearer.phone");
    other.keys(&[".5", "enter"]);
    assert!(!other.said().contains("typed earlier"), "{}", other.said());
    assert_eq!(value(&other, "wearer.phone"), ".5");
}

#[test]
fn somebody_else_finds_nothing_typed_at_the_parcel_or_on_any_other_screen() {
    let (_first, mut d) = locked();
    d.keys(&["4710", "enter", "p", "77"]);
    assert_eq!(d.parcel().number.text(), "77");
    d.keys(&["ctrl-l", "down", "8253", "enter"]);
    assert_eq!(d.app.person.as_deref(), Some(ASSISTANT));
    assert!(d.app.notice.is_some() && !d.app.lines.is_empty());
    d.keys(&["p"]);
    assert_eq!(d.parcel().number.text(), "");
}

#[test]
fn a_lock_works_in_any_dialog_and_gives_it_back() {
    let (_first, mut d) = locked();
    d.keys(&["4710", "enter", "n", "Ada Blom", "ctrl-l"]);
    assert!(!d.screen(80, 24).contains("Ada"));
    d.keys(&["4710", "enter"]);
    assert!(d.screen(80, 24).contains("> Ada Blom"));
}

#[test]
fn an_idle_screen_is_locked_after_the_minutes_set() {
    let (_first, mut d) = locked();
    d.keys(&["4710", "enter"]);
    d.input(Input::Idle(4));
    assert!(d.app.lock.is_none());
    d.input(Input::Idle(5));
    assert!(d.app.lock.is_some());
    assert_nothing_shown(&d);
    // While nobody signs in there is nothing to lock.
    let mut d = Driver::signed_in(&[job()]);
    d.input(Input::Idle(500));
    d.keys(&["ctrl-l"]);
    assert!(d.app.lock.is_none());
    assert!(d.said().contains("Sign-in is off"), "{}", d.said());
}

#[test]
fn turned_on_from_elsewhere_it_locks_at_the_next_look() {
    let mut d = Driver::signed_in(&[job()]);
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    desk.set_secret(OPTICIAN, "4710", OPTICIAN).unwrap();
    desk.set_security(ON, OPTICIAN).unwrap();
    d.input(Input::Poll);
    assert!(d.app.lock.is_some());
    assert_nothing_shown(&d);
}

#[test]
fn switching_asks_for_the_pin_and_never_draws_it() {
    let (_first, mut d) = locked();
    d.keys(&["4710", "enter", "w", "down", "enter", "8253"]);
    assert!(!d.screen(80, 24).contains("8253"));
    assert!(!format!("{:?}", d.app.dialog).contains("8253"));
    assert!(d.screen(80, 24).contains("••••"));
    d.input(Input::Paste("x\ny".to_owned()));
    d.keys(&["enter"]);
    assert!(
        d.screen(80, 24)
            .contains("the PIN or passphrase is not right")
    );
    assert_eq!(d.app.person.as_deref(), Some(OPTICIAN));
    d.keys(&["8253", "enter"]);
    assert_eq!(d.app.person.as_deref(), Some(ASSISTANT));
}

fn palette(d: &mut Driver, action: &str) {
    d.keys(&["ctrl-p", &action.replace('-', " "), "enter"]);
}

#[test]
fn a_person_changes_their_own_pin_after_proving_the_old_one() {
    let (_first, mut d) = locked();
    d.keys(&["4710", "enter"]);
    palette(&mut d, "own-pin");
    d.keys(&["0001", "enter", "6294", "enter", "6294", "enter"]);
    assert!(d.said().contains("not right"), "{}", d.said());
    palette(&mut d, "own-pin");
    d.keys(&["4710", "enter", "6294", "enter", "6295", "enter"]);
    assert!(d.screen(80, 24).contains("not the same"));
    d.keys(&["6294", "enter", "6294", "enter"]);
    assert!(d.said().contains("is set"), "{}", d.said());
    d.keys(&["ctrl-l", "4710", "enter"]);
    assert!(d.app.lock.is_some());
    d.keys(&["6294", "enter"]);
    assert!(d.app.lock.is_none());
}

#[test]
fn an_assistant_is_refused_what_only_the_registered_set() {
    let (_first, mut d) = locked();
    d.keys(&["down", "8253", "enter"]);
    palette(&mut d, "sign-in");
    d.keys(&["enter", "8253", "enter"]);
    assert!(
        d.said().contains("only a dispensing optician"),
        "{}",
        d.said()
    );
    palette(&mut d, "another-pin");
    d.keys(&["enter", "8253", "enter", "6294", "enter", "6294", "enter"]);
    assert!(d.said().contains("may not set"), "{}", d.said());
    palette(&mut d, "practice-settings");
    d.keys(&["down", "enter", "down", "enter"]);
    assert!(
        d.said().contains("only a dispensing optician"),
        "{}",
        d.said()
    );
}

#[test]
fn the_practice_is_set_by_keys_and_wrong_values_are_refused() {
    let mut d = Driver::signed_in(&[job()]);
    palette(&mut d, "practice-settings");
    d.keys(&["s", "s", "enter", "-3", "enter"]);
    assert!(
        d.screen(80, 24).contains("0 to 1000"),
        "{}",
        d.screen(80, 24)
    );
    d.keys(&["ctrl-u", "6.5", "enter"]);
    assert!(d.said().contains("settings are changed"), "{}", d.said());
    let screen = d.screen(80, 24);
    assert!(
        screen.contains("Practice settings") && screen.contains("6.5") && screen.contains("own"),
        "the list is there again with the new value\n{screen}"
    );
    d.keys(&["esc"]);
    let desk = Desk::open(&d.path, clock()).unwrap();
    let practice = desk.practice().unwrap();
    assert!((practice.thresholds.get(Threshold::Strong) - 6.5).abs() < 1e-9);
    let mut own = practice.clone();
    assert!(
        own.set("adult-pd-low", "80")
            .unwrap_err()
            .contains("above the most")
    );
    assert!(own.set("strong-pair", "NaN").is_err());
    assert_eq!(own, practice);
    own.set("strong-pair", "default").unwrap();
    assert!(!own.thresholds.is_own(Threshold::Strong));
}

#[test]
fn a_new_book_offers_sign_in_and_says_when_it_is_skipped() {
    let begin = &["enter", OPTICIAN, "enter", "enter", "R2041", "enter"];
    let dir = tempfile::tempdir().unwrap();
    let mut d = Driver::on(dir.path().join("one.db"));
    d.keys(begin);
    says(
        &d.screen(80, 24),
        &[
            "Ines Calloway, unproven",
            "sign-in off: a name is enough to act",
            "Set a PIN or passphrase now? Recommended: otherwise anybody at this",
            "keyboard can act in your name.",
            "> set one and turn sign-in on",
            "skip: a name is enough to act, and every screen says so",
            "The book is begun.",
            "enter take esc leave",
        ],
    );
    d.keys(&["enter", "4710", "enter", "4710", "enter"]);
    assert!(d.app.security.sign_in && d.app.proven, "{}", d.said());
    assert!(d.said().contains("staff recovery-code"), "{}", d.said());
    let mut d = Driver::on(dir.path().join("two.db"));
    d.keys(begin);
    d.keys(&["esc"]);
    assert!(d.said().contains("Sign-in is off"), "{}", d.said());
    let shown = d.screen(80, 24);
    assert!(
        shown.contains("unproven") && shown.contains("off: a name"),
        "{shown}"
    );
}

fn any_key() -> impl Strategy<Value = Key> {
    let code = prop_oneof![
        4 => any::<char>().prop_map(Code::Char),
        2 => prop::char::range('a', 'z').prop_map(Code::Char),
        4 => prop::sample::select(NAMED).prop_map(Code::Named),
        1 => (1_u8..=12).prop_map(Code::F),
    ];
    (code, any::<bool>(), any::<bool>()).prop_map(|(code, ctrl, alt)| Key { code, ctrl, alt })
}

#[test]
fn random_keys_on_a_locked_screen_reveal_and_change_nothing() {
    let (_first, mut d) = locked();
    d.keys(&["4710", "enter", "enter", "alt-2", "-2.2", "ctrl-l"]);
    let before = d.in_book();
    let mut runner = proptest::test_runner::TestRunner::new(ProptestConfig {
        cases: 40,
        failure_persistence: None,
        ..ProptestConfig::default()
    });
    let d = std::cell::RefCell::new(d);
    runner
        .run(&prop::collection::vec(any_key(), 1..40), |keys| {
            let mut d = d.borrow_mut();
            for key in keys {
                d.press(key);
                d.input(Input::Poll);
            }
            d.app.quit = false;
            prop_assert!(d.app.lock.is_some());
            prop_assert!(d.app.notice.is_none());
            // What was typed for the PIN is the person's own, and no longer of interest.
            assert_nothing_shown(&d);
            Ok(())
        })
        .unwrap();
    let d = d.into_inner();
    assert_eq!(d.in_book(), before);
}
