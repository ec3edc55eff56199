//! Names that others typed, confirmed by keys: at the finding by the PIN of the owner, or from a list.

use crate::driver::{Driver, clock, scenario};
use rimbook::testing::book::desk::{Desk, Security};
use rimbook::testing::tui::effect::Effect;
use serde_json::json;

const OPTICIAN: &str = "Ines Calloway";
const ASSISTANT: &str = "Nadia Brookwell";
const ON: Security = Security {
    sign_in: true,
    idle_minutes: 5,
};

/// A book with sign-in on and two jobs that the assistant took in in the optician's name, and the screen
/// on which one of the two has signed in.
fn screen_of(name: &str, pin: &str) -> (Driver, Driver) {
    let first = Driver::with(&[]);
    let mut desk = Desk::open(&first.path, clock()).unwrap();
    desk.set_secret(OPTICIAN, "4710", OPTICIAN).unwrap();
    desk.set_secret(ASSISTANT, "8253", ASSISTANT).unwrap();
    desk.set_security(ON, OPTICIAN).unwrap();
    desk.sign_in(ASSISTANT, "8253").unwrap();
    for wearer in ["Wanda Holt", "Gethin Maddox"] {
        let mut job = scenario("S01")["job"].clone();
        job["wearer"]["name"] = json!(wearer);
        desk.import(&job.to_string(), Some(ASSISTANT)).unwrap();
    }
    let mut d = Driver::on(first.path.clone());
    if name == ASSISTANT {
        d.keys(&["down"]);
    }
    d.keys(&[pin, "enter"]);
    assert_eq!(d.app.person.as_deref(), Some(name));
    (first, d)
}

fn typed(d: &Driver) -> usize {
    let mut desk = Desk::open(&d.path, clock()).unwrap();
    desk.sign_in(OPTICIAN, "4710").unwrap();
    desk.waiting_names(OPTICIAN).unwrap().len()
}

#[test]
fn at_the_finding_the_owner_types_the_pin_and_nobody_else_is_signed_in_by_it() {
    let (_first, mut d) = screen_of(ASSISTANT, "8253");
    d.keys(&["g"]);
    let shown = d.screen(100, 30);
    assert!(shown.contains("measured by Ines Calloway"), "{shown}");
    assert!(shown.contains("c confirm"), "{shown}");
    d.keys(&["c"]);
    let shown = d.screen(100, 30);
    assert!(
        shown.contains("PIN or passphrase of Ines Calloway"),
        "{shown}"
    );
    d.keys(&["8253", "enter"]);
    assert!(d.said().contains("not right"), "{}", d.said());
    assert_eq!(typed(&d), 2);
    d.keys(&["c", "4710", "enter"]);
    assert!(
        d.said().contains("Ines Calloway has confirmed"),
        "{}",
        d.said()
    );
    assert_eq!(typed(&d), 1);
    assert_eq!(d.app.person.as_deref(), Some(ASSISTANT));
    assert!(!d.screen(100, 30).contains("measured by Ines Calloway"));
}

#[test]
fn whoever_signs_in_sees_what_waits_and_confirms_several_at_once() {
    let (_first, mut d) = screen_of(OPTICIAN, "4710");
    let shown = d.screen(100, 30);
    let line = "to confirm       2 names typed by others: s lists";
    assert!(shown.contains(line), "{shown}");
    d.keys(&["s"]);
    let shown = d.screen(100, 30);
    assert!(
        shown.contains("1001 Wanda Holt: measured by, typed by Nadia Brookwell"),
        "{shown}"
    );
    // The first is looked at, and confirmed at the gate of its job without a PIN.
    d.keys(&["enter", "enter", "ctrl-g", "c"]);
    assert!(
        d.said().contains("Ines Calloway has confirmed"),
        "{}",
        d.said()
    );
    assert_eq!(typed(&d), 1);
    let (_first, mut d) = screen_of(OPTICIAN, "4710");
    d.keys(&["s", "end", "enter"]);
    assert_eq!(typed(&d), 0);
    assert!(!d.screen(100, 30).contains("to confirm"));
    d.keys(&["s"]);
    assert!(d.said().contains("No name of yours"), "{}", d.said());
}

#[test]
fn what_runs_a_program_or_weakens_the_protection_needs_the_pin_once_more() {
    let (_first, mut d) = screen_of(OPTICIAN, "4710");
    let security = |d: &Driver| Desk::open(&d.path, clock()).unwrap().security().unwrap();
    d.keys(&[":", "sign-in", "enter", "enter"]);
    let shown = d.screen(100, 30);
    assert!(shown.contains("Once more, PIN or passphrase"), "{shown}");
    assert!(security(&d).sign_in);
    d.keys(&["8253", "enter"]);
    assert!(d.said().contains("not right"), "{}", d.said());
    assert!(security(&d).sign_in);
    let command = |d: &Driver| {
        let practice = Desk::open(&d.path, clock()).unwrap().practice().unwrap();
        practice.printing.command
    };
    d.run(vec![Effect::SetPractice {
        key: "print-command",
        value: "lp".to_owned(),
        by: OPTICIAN.to_owned(),
        secret: None,
    }]);
    assert_eq!(command(&d), "");
}

#[test]
fn an_assistant_sees_no_line_about_the_names_of_others() {
    let (_first, d) = screen_of(ASSISTANT, "8253");
    assert!(!d.screen(100, 30).contains("to confirm"));
}
