//! Who is due for review: grouped by wearer, open work kept away, on the screens too.

use crate::driver::{Driver, assistant, clock, optician, today};
use rimbook::testing::book::desk::{Desk, ErrorKind};
use rimbook::testing::job::retention::{Retention, Why};
use serde_json::{Value, json};

const OPTICIAN: &str = "Ines Calloway";
const ASSISTANT: &str = "Nadia Brookwell";

fn begun() -> (tempfile::TempDir, Desk) {
    let dir = tempfile::tempdir().unwrap();
    let mut desk = Desk::create(&dir.path().join("book.db"), clock()).unwrap();
    desk.add_staff(optician()).unwrap();
    desk.add_staff(assistant()).unwrap();
    (dir, desk)
}

fn import(desk: &mut Desk, job: &Value) -> String {
    let mut numbers = desk
        .import(&job.to_string(), Some(OPTICIAN))
        .unwrap()
        .numbers;
    numbers.pop().unwrap()
}

fn past(name: &str, born: Option<&str>, seen: Option<&str>) -> Value {
    let mut job =
        json!({"format": "rimbook-job", "version": 1, "past": true, "wearer": {"name": name}});
    if let Some(born) = born {
        job["wearer"]["born"] = born.into();
    }
    if let Some(seen) = seen {
        job["handover"]["given_on"] = seen.into();
    }
    job
}

#[test]
fn what_is_due_is_grouped_by_wearer_and_open_work_keeps_it_away() {
    let (_dir, mut desk) = begun();
    // Today is 2026-10-12.
    assert_eq!(today().to_string(), "2026-10-12");
    let a = import(
        &mut desk,
        &past("Wanda Holt", Some("1970-05-01"), Some("2009-03-01")),
    );
    let b = import(
        &mut desk,
        &past("wanda  HOLT", Some("1970-05-01"), Some("2016-10-12")),
    );
    import(
        &mut desk,
        &past("Wanda Holt", Some("1990-05-01"), Some("2016-10-13")),
    );
    import(
        &mut desk,
        &past("Kit Marlow", Some("2008-02-29"), Some("2012-01-01")),
    );
    let unborn = import(&mut desk, &past("Sam Reed", None, Some("2015-06-01")));
    import(&mut desk, &past("Ida Reed", None, None));
    import(&mut desk, &past("Open Oakes", None, Some("2001-01-01")));
    desk.new_job("Open Oakes", Some(OPTICIAN)).unwrap();
    let due = desk.due_for_review(today()).unwrap();
    let told: Vec<_> = due
        .iter()
        .map(|r| (r.numbers.clone(), r.due_on.to_string(), r.rule))
        .collect();
    assert_eq!(
        told,
        [
            (vec![unborn], "2025-06-01".to_owned(), Why::BirthUnknown),
            (vec![a, b], "2026-10-12".to_owned(), Why::Adult),
        ]
    );
    assert!(due[0].why.contains("no date of birth"), "{}", due[0].why);
    let later = desk.due_for_review("2036-10-12".parse().unwrap()).unwrap();
    let told: Vec<_> = later.iter().map(|r| (r.wearer.as_str(), r.rule)).collect();
    assert_eq!(
        told[2..],
        [
            ("Wanda Holt", Why::Adult),
            ("Kit Marlow", Why::ChildBirthday),
            ("Ida Reed", Why::BirthUnknown)
        ]
    );
    assert!(later[4].seen_by_entry, "nobody wrote when she was seen");
    desk.set_retention(
        Retention {
            adult_years: 11,
            child_until_age: 25,
        },
        OPTICIAN,
    )
    .unwrap();
    assert_eq!(desk.due_for_review(today()).unwrap().len(), 1);
    let wrong = Retention {
        adult_years: 0,
        child_until_age: 25,
    };
    let refused = desk.set_retention(wrong, OPTICIAN).unwrap_err();
    assert_eq!(refused.kind, ErrorKind::Input);
    let refused = desk.set_retention(Retention::default(), ASSISTANT);
    assert_eq!(refused.unwrap_err().kind, ErrorKind::Refused);
}

#[test]
fn the_screens_list_what_is_due_and_open_it() {
    let mut d = Driver::with(&[
        past("Wanda Holt", Some("1970-05-01"), Some("2009-03-01")),
        past("Wanda Holt", Some("1970-05-01"), Some("2016-10-12")),
        past("Kit Marlow", Some("2008-02-29"), Some("2012-01-01")),
    ]);
    d.press(rimbook::testing::tui::key::Key::parse("f9").unwrap());
    let shown = d.screen(80, 24);
    assert!(
        shown.contains("Wanda Holt born 1970-05-01, 2 jobs, seen 2016-10-12, due 2026-10-12"),
        "{shown}"
    );
    assert!(shown.contains("Nothing is erased by itself"), "{shown}");
    assert!(!shown.contains("Kit Marlow"), "{shown}");
    d.keys(&["enter"]);
    assert_eq!(d.app.job.as_ref().unwrap().open.number, "1002");
    let mut empty = Driver::with(&[]);
    empty.keys(&[":", "due for review", "enter"]);
    assert_eq!(empty.said(), "No wearer's records are due for review.");
}
