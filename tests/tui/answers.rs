//! What is chosen is what the screen shows, whatever another desk does to the book meanwhile.

use crate::driver::{Driver, clock, scenario, verify};
use rimbook::testing::book::desk::{Desk, Security};
use rimbook::testing::job::{Role, Section, StaffMember};
use rimbook::testing::tui::effect::Effect;
use rimbook::testing::tui::update::Input;
use serde_json::json;

const BY: &str = "Ines Calloway";

fn another_desk(d: &Driver) -> Desk {
    Desk::open(&d.path, clock()).unwrap()
}

fn zed() -> StaffMember {
    StaffMember {
        name: "Zed Newman".to_owned(),
        role: Role::Assistant,
        registration: None,
        supervisor: None,
    }
}

#[test]
fn somebody_new_is_asked_for_a_name_though_another_desk_has_added_a_member() {
    let mut d = Driver::with(&[]);
    d.keys(&["w", "end"]);
    assert!(d.screen(80, 24).contains("> somebody new"));
    another_desk(&d).add_staff(zed()).unwrap();
    d.input(Input::Poll);
    assert!(
        d.app.staff.find("Zed Newman").is_some(),
        "the new list is read"
    );
    assert!(d.screen(80, 24).contains("> somebody new"));
    d.keys(&["enter"]);
    assert_eq!(d.app.person, None, "nobody has said who they are");
    assert!(
        d.screen(80, 24).contains("Name, as history will show it:"),
        "{}",
        d.screen(80, 24)
    );
}

#[test]
fn a_deed_that_waits_is_never_recorded_in_the_name_of_a_member_added_elsewhere() {
    let mut d = Driver::with(&[scenario("S01")["job"].clone()]);
    // A new job waits for a name.
    d.keys(&["n", "Iolo Penhaligon", "enter", "end"]);
    assert!(d.screen(80, 24).contains("> somebody new"));
    another_desk(&d).add_staff(zed()).unwrap();
    d.input(Input::Poll);
    d.keys(&["enter"]);
    assert_eq!(d.app.person, None);
    assert!(!d.app.lines.iter().any(|l| l.wearer == "Iolo Penhaligon"));
    d.keys(&["Bryn Sallow", "enter", "assist", "enter"]);
    assert_eq!(d.app.person.as_deref(), Some("Bryn Sallow"));
    let number = d.app.job.as_ref().unwrap().open.number.clone();
    let history = another_desk(&d).history(&number).unwrap();
    assert!(
        history
            .iter()
            .all(|e| e.by.as_deref() == Some("Bryn Sallow"))
    );
}

/// Two pairs that wait, with the telephone numbers of their wearers.
fn two_who_wait() -> (Driver, [String; 2]) {
    let file = |name: &str, phone: &str| {
        let mut file = scenario("S01")["job"].clone();
        file["collection_at"] = json!(null);
        file["wearer"]["name"] = json!(name);
        file["wearer"]["phone"] = json!(phone);
        file
    };
    let mut d = Driver::signed_in(&[
        file("Iolo Penhaligon", "0000 0101"),
        file("Hedy Lornquist", "0000 0102"),
    ]);
    let mut desk = another_desk(&d);
    let numbers: Vec<String> = d.app.lines.iter().map(|l| l.number.clone()).collect();
    for number in &numbers {
        verify(&mut desk, number, BY);
    }
    d.run(vec![Effect::Reload]);
    let waiting: Vec<String> = d.app.waiting.iter().map(|w| w.number.clone()).collect();
    (d, waiting.try_into().expect("two who wait"))
}

#[test]
fn of_those_who_wait_the_job_seen_on_the_screen_is_chosen() {
    let (mut d, [first, second]) = two_who_wait();
    d.keys(&["u"]);
    let job = json!({"collection_at": "2026-10-20T09:30"});
    another_desk(&d)
        .record(&first, Section::Job, &job, None, Some(BY))
        .unwrap();
    d.input(Input::Poll);
    assert_eq!(d.app.waiting.len(), 1, "the new list is read");
    let screen = d.screen(80, 24);
    assert!(
        screen
            .lines()
            .any(|l| l.contains("> ") && l.contains(&first)),
        "the list on the screen is the one that was shown: {screen}"
    );
    d.keys(&["enter"]);
    let screen = d.screen(80, 24);
    assert!(screen.contains(&first), "{screen}");
    assert!(
        !screen
            .lines()
            .any(|l| l.contains(&second) && l.contains("telephone")),
        "{screen}"
    );
    d.keys(&["down", "enter", "rang twice", "enter"]);
    let desk = another_desk(&d);
    let contacts = |number: &str| desk.load(number).unwrap().job.aftercare.contacts.len();
    assert_eq!((contacts(&first), contacts(&second)), (1, 0));
}

#[test]
fn turning_sign_in_on_stays_that_though_another_desk_has_turned_it_on() {
    let mut d = Driver::signed_in(&[]);
    d.app.security = Security {
        sign_in: false,
        ..d.app.security
    };
    rimbook::testing::tui::update::input(&mut d.app, Input::Key(key("ctrl-p")));
    d.keys(&["sign-in", "enter"]);
    assert!(
        d.screen(80, 24).contains("> turn sign-in on"),
        "{}",
        d.screen(80, 24)
    );
    // As it is read from the book that another desk has changed.
    d.app.security.sign_in = true;
    let effects = rimbook::testing::tui::update::input(&mut d.app, Input::Key(key("enter")));
    let set: Vec<bool> = effects
        .iter()
        .filter_map(|e| match e {
            Effect::SetSecurity { change, .. } => change.sign_in,
            _ => None,
        })
        .collect();
    assert_eq!(set, [true], "{effects:?}");
}

fn key(name: &str) -> rimbook::testing::tui::key::Key {
    rimbook::testing::tui::key::Key::parse(name).unwrap()
}

#[test]
fn a_setting_that_another_desk_has_changed_meanwhile_is_not_written_back() {
    let mut d = Driver::signed_in(&[]);
    d.keys(&[":", "practice-settings", "enter", "child-months"]);
    d.keys(&["enter", "4"]);
    another_desk(&d)
        .set_in_practice("strong-pair", "7", BY)
        .unwrap();
    d.keys(&["enter"]);
    let practice = another_desk(&d).practice().unwrap();
    let in_force = |key: &str| {
        let all = rimbook::testing::practice::settings(&practice);
        all.into_iter().find(|s| s.key == key).unwrap().value
    };
    assert_eq!(in_force("child-months"), "4", "{}", d.said());
    assert_eq!(in_force("strong-pair"), "7");
}
