//! Who counts as registered: the role and, where the practice asks for it, a registration number.

use crate::driver::{Driver, assistant, clock, optician, scenario};
use rimbook::testing::book::desk::{Desk, ErrorKind};
use rimbook::testing::job::{NumberRule, Role, StaffMember};

fn person(name: &str, role: Role, number: Option<&str>, supervisor: Option<&str>) -> StaffMember {
    StaffMember {
        name: name.to_owned(),
        role,
        registration: number.map(str::to_owned),
        supervisor: supervisor.map(str::to_owned),
    }
}

fn empty() -> (tempfile::TempDir, Desk) {
    let dir = tempfile::tempdir().unwrap();
    let desk = Desk::create(&dir.path().join("book.db"), clock()).unwrap();
    (dir, desk)
}

fn names(desk: &Desk) -> Vec<String> {
    desk.staff()
        .unwrap()
        .0
        .into_iter()
        .map(|m| m.name)
        .collect()
}

/// A book as an older version left it: Una Merrick has the role and no number.
fn older() -> (tempfile::TempDir, Desk) {
    let (dir, mut desk) = empty();
    let lax = |desk: &mut Desk, word: &str| {
        let mut practice = desk.practice().unwrap();
        practice.set("registration-number", word).unwrap();
        desk.set_practice(&practice, "Una Merrick")
    };
    desk.add_staff(person("Una Merrick", Role::Optometrist, Some("X"), None))
        .unwrap();
    lax(&mut desk, "not required").unwrap();
    desk.add_staff(person(
        "Ines Calloway",
        Role::DispensingOptician,
        None,
        None,
    ))
    .unwrap();
    lax(&mut desk, "required").unwrap();
    (dir, desk)
}

#[test]
fn nobody_is_added_to_a_registered_role_without_a_number() {
    let (_dir, mut desk) = empty();
    for role in [Role::DispensingOptician, Role::Optometrist] {
        for number in [None, Some(""), Some("  ")] {
            let error = desk
                .add_staff(person("Una Merrick", role, number, None))
                .unwrap_err();
            assert_eq!(error.kind, ErrorKind::Input);
            assert!(error.message.contains("no registration number"), "{error}");
        }
    }
    assert!(names(&desk).is_empty());
    desk.add_staff(person(
        "Una Merrick",
        Role::Optometrist,
        Some(" R7781 "),
        None,
    ))
    .unwrap();
    let una = desk.staff().unwrap().0.remove(0);
    assert_eq!(una.registration.as_deref(), Some("R7781"));
    assert!(una.is_registrant(NumberRule::Required));
}

#[test]
fn a_trainee_works_under_somebody_registered() {
    let (_dir, mut desk) = empty();
    let trainee = |name: &str, by| person(name, Role::Trainee, None, by);
    assert!(desk.add_staff(trainee("Teo", None)).is_err());
    desk.add_staff(assistant()).unwrap();
    assert!(
        desk.add_staff(trainee("Teo", Some("Nadia Brookwell")))
            .is_err()
    );
    // A list is begun in any order; until the supervisor is on it the trainee serves nobody restricted.
    desk.add_staff(trainee("Teo", Some("Ines Calloway")))
        .unwrap();
    let serves = |desk: &Desk| {
        let roll = desk.staff().unwrap();
        roll.may_serve_restricted("Teo", NumberRule::Required)
    };
    assert!(!serves(&desk));
    desk.add_staff(optician()).unwrap();
    assert!(serves(&desk));
    for by in [None, Some("Nadia Brookwell"), Some("Teo"), Some("Nobody")] {
        let error = desk.add_staff(trainee("Pia", by)).unwrap_err();
        assert_eq!(error.kind, ErrorKind::Input);
    }
    assert_eq!(names(&desk).len(), 3);
    desk.add_staff(trainee("Pia", Some("ines calloway")))
        .unwrap();
}

#[test]
fn somebody_of_an_older_book_without_a_number_is_kept_and_not_registered_until_it_is_added() {
    let (_dir, mut desk) = older();
    assert_eq!(names(&desk), ["Una Merrick", "Ines Calloway"]);
    let said = desk.without_number().unwrap();
    assert_eq!(said.len(), 1);
    assert!(
        said[0].starts_with("Ines Calloway has no registration number")
            && said[0].contains("--registration NUMBER"),
        "{said:?}"
    );
    let practice = desk.practice().unwrap();
    let refused = desk.set_practice(&practice, "Ines Calloway").unwrap_err();
    assert_eq!(refused.kind, ErrorKind::Refused);
    assert!(refused.message.contains("registration number"), "{refused}");
    let add = |number, role| person("ines calloway", role, number, None);
    // Neither another role nor nothing is a number.
    for member in [
        add(None, Role::DispensingOptician),
        add(Some("R1"), Role::Optometrist),
    ] {
        assert!(desk.add_staff(member).is_err());
    }
    desk.add_staff(add(Some("R2041"), Role::DispensingOptician))
        .unwrap();
    assert_eq!(names(&desk), ["Una Merrick", "Ines Calloway"]);
    assert!(desk.without_number().unwrap().is_empty());
    desk.set_practice(&practice, "Ines Calloway").unwrap();
    // A number is added once; another is not taken over it.
    assert!(
        desk.add_staff(add(Some("R9"), Role::DispensingOptician))
            .is_err()
    );
}

#[test]
fn a_warning_is_accepted_by_somebody_registered_only() {
    let (_dir, mut desk) = older();
    let mut job = scenario("S01")["job"].clone();
    job["frame"]["ed_mm"] = serde_json::json!(49);
    let number = desk
        .import(&job.to_string(), Some("Una Merrick"))
        .unwrap()
        .numbers
        .remove(0);
    let accept = |desk: &mut Desk| {
        desk.accept(&number, "frame-boxed", None, "Ines Calloway", "read twice")
            .unwrap()
    };
    let refused = accept(&mut desk);
    assert!(
        !refused.ok && refused.message.contains("no registration number"),
        "{}",
        refused.message
    );
    desk.add_staff(optician()).unwrap();
    assert!(accept(&mut desk).ok);
}

#[test]
fn the_screen_says_who_lacks_a_number_and_takes_it_where_the_person_is_chosen() {
    let (dir, desk) = older();
    drop(desk);
    let mut d = Driver::on(dir.path().join("book.db"));
    let shown = d.screen(80, 24);
    assert!(shown.contains("Not registered until"), "{shown}");
    d.keys(&["w", "down", "enter"]);
    let shown = d.screen(80, 24);
    assert!(
        shown.contains("Registration number of Ines Calloway"),
        "{shown}"
    );
    d.keys(&["R2041", "enter"]);
    assert_eq!(d.app.person.as_deref(), Some("Ines Calloway"));
    let roll = Desk::open(&d.path, clock()).unwrap().staff().unwrap();
    assert!(roll.is_registrant("Ines Calloway", NumberRule::Required));
    // Nothing is asked a second time.
    d.keys(&["w", "down", "enter"]);
    assert!(!d.screen(80, 24).contains("Registration number of"));
}
