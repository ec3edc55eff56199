//! Keys of the form while something is typed: kept first; what cannot be kept stays and is said to.
//! And the list of actions where nothing is found.

use crate::driver::Driver;
use rimbook::testing::tui::Screen;
use rimbook::testing::tui::action::Action;
use rimbook::testing::tui::palette::matching;

/// A new job, the cursor on the day of birth.
fn begun() -> Driver {
    let mut d = Driver::signed_in(&[]);
    d.keys(&["n", "Una Merrowby", "enter"]);
    d
}

fn typed(d: &Driver) -> Option<String> {
    let edit = d.app.states.form()?.edit()?;
    Some(edit.line.text().to_owned())
}

/// Keys of the form that are neither typed nor keys of an entry.
const KEYS: [&str; 10] = [
    "alt-6",
    "alt-9",
    "page-down",
    "page-up",
    "f6",
    "f7",
    "f3",
    "alt-n",
    "alt-r",
    "f10",
];

#[test]
fn what_was_refused_stays_and_is_said_to_whatever_key_leaves() {
    for key in KEYS {
        let mut d = begun();
        d.keys(&["31/31/1990", key]);
        let form = d.app.states.form().unwrap();
        assert_eq!((d.app.screen, form.tab), (Screen::Job, 0), "{key}");
        assert_eq!(typed(&d).as_deref(), Some("31/31/1990"), "{key}");
        let said = d.said();
        assert!(
            said.contains("is not kept: this is no day"),
            "{key}: {said}"
        );
        assert!(said.contains("esc drops it"), "{key}: {said}");
        assert!(d.screen(80, 24).contains("esc drops it"), "whole");
        assert_eq!(d.in_book().job.wearer.born, None, "{key}");
    }
}

#[test]
fn what_can_be_kept_is_kept_and_the_key_does_what_it_does() {
    let mut d = begun();
    d.keys(&["15/3/1958", "alt-6"]);
    assert_eq!(d.app.states.form().unwrap().tab, 5);
    assert_eq!(typed(&d), None);
    assert!(d.in_book().job.wearer.born.is_some());
    d.keys(&["alt-1", "home", "down", "16/3/1958", "f6"]);
    assert_eq!(d.app.screen, Screen::Pictures);
    let born = d.in_book().job.wearer.born.unwrap();
    assert_eq!(born.to_string(), "1958-03-16");
    // Nobody is acting: that is asked first, and the section stays.
    let mut d = begun();
    d.app.person = None;
    d.keys(&["15/3/1958", "alt-6"]);
    assert!(d.app.dialog.is_some());
    assert_eq!(d.app.states.form().unwrap().tab, 0);
    d.keys(&["esc"]);
    assert_eq!(typed(&d).as_deref(), Some("15/3/1958"), "given back");
}

#[test]
fn a_key_that_means_nothing_there_says_so_and_loses_nothing() {
    let mut d = begun();
    d.keys(&["15/3", "f11"]);
    assert!(d.said().contains("f11 does nothing while"), "{}", d.said());
    assert_eq!(typed(&d).as_deref(), Some("15/3"));
}

#[test]
fn the_list_of_actions_finds_by_the_names_of_key_files_and_says_where_else() {
    let mut d = Driver::signed_in(&[]);
    for (text, action) in [
        ("own-pin", Action::OwnSecret),
        ("practice-settings", Action::PracticeSettings),
        ("prac", Action::PracticeSettings),
        ("tour", Action::Tour),
        ("another's PIN", Action::OtherSecret),
    ] {
        assert_eq!(matching(&d.app, text).first(), Some(&action), "{text}");
    }
    // Of another screen: it says of which, and Enter leaves the list open.
    d.keys(&[":", "send-back", "enter"]);
    let screen = d.screen(80, 24);
    assert!(
        screen.contains("Nothing on this screen is called send-back."),
        "{screen}"
    );
    assert!(
        screen.contains("On another screen: send-back (gate, parcel)."),
        "{screen}"
    );
    d.keys(&["ctrl-u", "zzqqx"]);
    let screen = d.screen(80, 24);
    assert!(
        screen.contains("Nothing on this screen is called zzqqx."),
        "{screen}"
    );
    assert!(!screen.contains("another screen:"), "{screen}");
    // A word of its sentence finds an action, letters scattered over a sentence do not: Enter would
    // do something that nobody looked for.
    d.keys(&["esc"]);
    assert_eq!(matching(&d.app, "laboratory"), [Action::Parcel]);
    d.keys(&["p", ":", "pict", "enter"]);
    let screen = d.screen(80, 24);
    assert!(
        screen.contains("On another screen: pictures (job, gate)."),
        "{screen}"
    );
}
