//! A recall: everybody who has a frame or lens of a maker, a product or a lot, and nobody else.
#![allow(clippy::disallowed_methods, reason = "tests")]

use std::path::Path;

use rimbook::testing::book::clock::Clock;
use rimbook::testing::book::desk::{Desk, Erasure, Made};
use rimbook::testing::job::{Role, Section, StaffMember};
use serde_json::{Value, json};

const OPTICIAN: &str = "Ines Calloway";

fn practice(at: &Path) -> Desk {
    let mut desk = Desk::create(at, Clock::default()).unwrap();
    desk.add_staff(StaffMember {
        name: OPTICIAN.to_owned(),
        role: Role::Optometrist,
        registration: Some("01-1".to_owned()),
        supervisor: None,
    })
    .unwrap();
    desk
}

fn begun(desk: &mut Desk, name: &str, sections: &Value) -> String {
    let mut job = json!({"format": "rimbook-job", "version": 1, "wearer": {"name": name}});
    for (section, value) in sections.as_object().unwrap() {
        job[section] = value.clone();
    }
    let numbers = desk.import(&job.to_string(), None).unwrap().numbers;
    numbers[0].clone()
}

fn made(maker: &str, product: &str, lot: &str) -> Made {
    let text = |t: &str| (!t.is_empty()).then(|| t.to_owned());
    Made {
        maker: text(maker),
        product: text(product),
        lot: text(lot),
    }
}

fn found(desk: &Desk, of: &Made) -> Vec<String> {
    let jobs = desk.find_made(of, "", usize::MAX).unwrap();
    jobs.into_iter().map(|j| j.number).collect()
}

#[test]
fn frames_and_lenses_of_either_eye_are_found_by_maker_product_and_lot() {
    let dir = tempfile::tempdir().unwrap();
    let mut desk = practice(&dir.path().join("book.db"));
    let frame = begun(
        &mut desk,
        "Una Merrowby",
        &json!({"frame": {"maker": "Rowan  Frames", "name": "Model Seven", "lot": "F1"}}),
    );
    let lenses = json!({"maker": "Glen Optical", "product": "Clear", "variant": "Short"});
    let left = begun(
        &mut desk,
        "Ida Example",
        &json!({"lenses": lenses, "readings": {"left": {"lot": "L1"}, "right": {"lot": "L2"}}}),
    );
    let other = begun(
        &mut desk,
        "Ivo Example",
        &json!({"lenses": {"maker": "Glen Optical", "product": "Clearest"}, "readings": {"right": {"lot": "L10"}}}),
    );
    // Spaces and capitals make no difference.
    assert_eq!(
        found(&desk, &made("rowan frames", "", "")),
        std::slice::from_ref(&frame)
    );
    assert_eq!(
        found(&desk, &made("", "MODEL seven", "")),
        std::slice::from_ref(&frame)
    );
    assert_eq!(found(&desk, &made("", "", "f1")), [frame]);
    // A lot is whole, a name may go on by whole words.
    assert_eq!(
        found(&desk, &made("", "", "L1")),
        std::slice::from_ref(&left)
    );
    assert_eq!(
        found(&desk, &made("", "", "L2")),
        std::slice::from_ref(&left)
    );
    assert_eq!(
        found(&desk, &made("", "clear", "")),
        std::slice::from_ref(&left)
    );
    assert_eq!(
        found(&desk, &made("", "clear short", "")),
        std::slice::from_ref(&left)
    );
    assert_eq!(
        found(&desk, &made("Glen", "", "")),
        [other.clone(), left.clone()]
    );
    // All that is named must hold of one and the same thing.
    assert_eq!(found(&desk, &made("Glen Optical", "", "L10")), [other]);
    assert!(found(&desk, &made("Rowan Frames", "", "L1")).is_empty());
    assert!(found(&desk, &made("", "short", "")).is_empty());
    assert!(found(&desk, &Made::default()).is_empty());
    let named = desk.find_made(&made("Glen", "", ""), "ida", 9).unwrap();
    assert_eq!(named.len(), 1);
    assert_eq!(named[0].number, left);
    assert_eq!(
        desk.find_made(&made("Glen", "", ""), "", 1).unwrap().len(),
        1
    );
}

#[test]
fn a_changed_a_cancelled_and_an_erased_job_are_found_as_they_are() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    let mut desk = practice(&path);
    let number = begun(
        &mut desk,
        "Una Merrowby",
        &json!({"frame": {"lot": "F1"}, "lenses": {"maker": "Glen"}}),
    );
    desk.record(
        &number,
        Section::Frame,
        &json!({"lot": "F2"}),
        None,
        Some(OPTICIAN),
    )
    .unwrap();
    assert!(found(&desk, &made("", "", "F1")).is_empty());
    assert_eq!(
        found(&desk, &made("", "", "F2")),
        std::slice::from_ref(&number)
    );
    desk.cancel(&number, OPTICIAN, "moved away").unwrap();
    let lines = desk.find_made(&made("", "", "F2"), "", 9).unwrap();
    assert_eq!(lines[0].stage_words(), "cancelled");
    let erasure = Erasure {
        number: &number,
        whole_wearer: false,
        confirm: &number,
        reason: "asked to be forgotten",
    };
    desk.erase(erasure, OPTICIAN).unwrap();
    assert!(found(&desk, &made("", "", "F2")).is_empty());
    assert!(found(&desk, &made("Glen", "", "")).is_empty());
}

#[test]
fn a_book_from_before_the_table_is_found_in_like_a_new_one() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    crate::old_books_of::put(6, &path);
    let number = "1001".to_owned();
    let desk = Desk::open(&path, Clock::default()).unwrap();
    assert_eq!(
        found(&desk, &made("Rowan", "", "")),
        std::slice::from_ref(&number)
    );
    assert_eq!(found(&desk, &made("", "", "L1")), [number]);
}
