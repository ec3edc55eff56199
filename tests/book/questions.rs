//! Questions to the prescriber and the laboratory, which hold a job until they are answered.

use crate::scenarios::{clock_of, desk_for, scenarios};
use rimbook::testing::book::desk::{Desk, ErrorKind, ListFilter};
use rimbook::testing::job::{Gate, QuestionTo};
use rimbook::testing::judge::gate::Finding;

#[test]
fn one_question_to_each_may_be_open_and_of_two_the_answer_says_whose_it_is() {
    let (_dir, path, mut desk, number) = desk_for(&scenarios()[0]);
    let by = "Nadia Brookwell";
    let open = |desk: &Desk| {
        let questions = desk.load(&number).unwrap().questions;
        questions
            .iter()
            .map(|q| (q.of, q.text.clone()))
            .collect::<Vec<_>>()
    };
    let (prescriber, laboratory) = (QuestionTo::Prescriber, QuestionTo::Laboratory);
    assert!(
        desk.answer(&number, by, None, "90").is_err(),
        "nothing was asked"
    );
    desk.ask(&number, by, prescriber, "is the left axis 90?")
        .unwrap();
    desk.ask(&number, by, laboratory, "which coating?").unwrap();
    let asked = vec![
        (prescriber, "is the left axis 90?".to_owned()),
        (laboratory, "which coating?".to_owned()),
    ];
    assert_eq!(open(&desk), asked);
    let whose = desk.answer(&number, by, None, "hard").unwrap_err();
    assert_eq!(whose.kind, ErrorKind::Input);
    for text in ["is the left axis 90?", "which coating?"] {
        assert!(whose.message.contains(text), "{whose}");
    }
    let held = desk
        .advance(&number, Gate::Ordered, "Ines Calloway", None)
        .unwrap();
    let questions = held.findings.iter().filter(|f| f.check == "question-open");
    assert_eq!(questions.count(), 2);
    desk.answer(&number, by, Some(laboratory), "hard").unwrap();
    assert_eq!(open(&desk), asked[..1]);
    assert!(desk.answer(&number, by, Some(laboratory), "hard").is_err());
    // Another program reads the same.
    assert_eq!(
        open(&Desk::open(&path, clock_of(&scenarios()[0])).unwrap()),
        asked[..1]
    );
    desk.answer(&number, by, None, "yes").unwrap();
    assert!(open(&desk).is_empty());
}

#[test]
fn a_question_that_an_earlier_version_kept_is_one_to_the_prescriber() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("book.db");
    crate::old_books_of::put(7, &path);
    let number = "1002".to_owned();
    let mut desk = Desk::open(&path, clock_of(&scenarios()[0])).unwrap();
    let questions = desk.load(&number).unwrap().questions;
    assert_eq!(questions.len(), 1);
    assert_eq!(questions[0].of, QuestionTo::Prescriber);
    desk.answer(&number, "Ines Calloway", None, "yes").unwrap();
    assert!(desk.load(&number).unwrap().questions.is_empty());
}

#[test]
fn a_question_to_the_prescriber_holds_the_job_until_it_is_answered() {
    let (_dir, _path, mut desk, number) = desk_for(&scenarios()[0]);
    desk.ask(
        &number,
        "Nadia Brookwell",
        QuestionTo::Prescriber,
        "is the left axis 90?",
    )
    .unwrap();
    let refused = desk
        .advance(&number, Gate::Ordered, "Ines Calloway", None)
        .unwrap();
    assert!(!refused.moved);
    let open: Vec<&Finding> = refused.findings.iter().filter(|f| f.is_open()).collect();
    assert_eq!(open.len(), 1, "{open:?}");
    assert_eq!(open[0].check.to_string(), "question-open");
    assert!(open[0].message.contains("is the left axis 90?"));
    let mut judged = Vec::new();
    desk.judge_open(|one| {
        judged.push(one.findings);
        Ok(())
    })
    .unwrap();
    assert!(judged[0].iter().any(|f| f.check == "question-open"));
    let held = desk
        .list(&ListFilter {
            held: true,
            ..ListFilter::default()
        })
        .unwrap();
    assert_eq!(held[0].held, ["question-open"]);
    // A second one to the same is refused with the words of the first.
    let again = desk
        .ask(
            &number,
            "Nadia Brookwell",
            QuestionTo::Prescriber,
            "or 100?",
        )
        .unwrap_err();
    assert_eq!(again.kind, ErrorKind::Refused);
    assert!(again.message.contains("is the left axis 90?"), "{again}");
    desk.answer(&number, "Nadia Brookwell", None, "yes")
        .unwrap();
    assert!(
        desk.advance(&number, Gate::Ordered, "Ines Calloway", None)
            .unwrap()
            .moved
    );
}
