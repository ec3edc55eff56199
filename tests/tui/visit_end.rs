//! How a visit ends: by its outcome, off the worklist, found and counted as before.

use crate::driver::{Driver, clock, scenario, today};
use rimbook::testing::book::desk::{Desk, ErrorKind};
use rimbook::testing::job::{Outcome, Section, Stage};
use rimbook::testing::tui::update::Input;
use rimbook::testing::views::figures::period::{Length, Period};
use serde_json::{Value, json};

const DO: &str = "Ines Calloway";

fn desk(d: &Driver) -> Desk {
    Desk::open(&d.path, clock()).unwrap()
}

/// A pair from before the book that came back.
fn rechecked() -> (Driver, String) {
    let mut job = scenario("S01")["job"].clone();
    job["number"] = json!("P-1");
    job["past"] = json!(true);
    job["stage"] = json!("collected");
    let d = Driver::signed_in(&[job]);
    let number = desk(&d).recheck("P-1", DO).unwrap().number;
    (d, number)
}

fn is_listed(desk: &Desk, number: &str) -> bool {
    desk.worklist().unwrap().iter().any(|l| l.number == number)
}

fn moves() -> Value {
    let ids: Vec<_> = rimbook::testing::judge::rules::free_moves::FREE_MOVES
        .iter()
        .map(|m| m.0)
        .collect();
    json!(ids)
}

#[test]
fn an_outcome_that_leaves_nothing_to_do_takes_the_visit_off_the_worklist() {
    for outcome in [Outcome::Adjusted, Outcome::RetestAsked, Outcome::Returned] {
        let (d, number) = rechecked();
        let mut desk = desk(&d);
        assert!(is_listed(&desk, &number));
        desk.record_visit(&number, DO, &json!({"outcome": outcome}))
            .unwrap();
        assert!(!is_listed(&desk, &number), "{outcome}");
        let found = desk.find(&number, 5).unwrap();
        assert_eq!(found[0].stage_words(), format!("closed: {outcome}"));
        let history = desk.history(&number).unwrap();
        assert_eq!(history.last().unwrap().detail["visit"], "closed");
        let report = desk
            .figures(Period::around(today(), Length::Month))
            .unwrap();
        let text = serde_json::to_string(&report).unwrap();
        assert!(text.contains(outcome.word()), "{outcome} is counted");
    }
}

#[test]
fn a_closed_visit_takes_who_pays_and_nothing_else_until_it_is_opened_again() {
    let (d, number) = rechecked();
    let mut desk = desk(&d);
    desk.record_visit(&number, DO, &json!({"outcome": "adjusted"}))
        .unwrap();
    let open = desk
        .record_visit(&number, DO, &json!({"at_cost_of": "practice"}))
        .unwrap();
    assert_eq!(open.job.stage(), Stage::Cancelled, "still closed");
    let fit = json!({"head_width_mm": 140});
    let refused = desk
        .record(&number, Section::Fitting, &fit, None, Some(DO))
        .unwrap_err();
    assert_eq!(refused.kind, ErrorKind::Refused);
    assert!(refused.message.contains("adjusted"), "{refused:?}");
    desk.record_visit(&number, DO, &json!({"outcome": null}))
        .unwrap();
    assert!(is_listed(&desk, &number));
    let history = desk.history(&number).unwrap();
    assert_eq!(history.last().unwrap().detail["visit"], "opened again");
    desk.record(&number, Section::Fitting, &fit, None, Some(DO))
        .unwrap();
}

#[test]
fn a_recheck_that_was_given_up_without_an_outcome_stays_closed() {
    let (d, number) = rechecked();
    let mut desk = desk(&d);
    desk.cancel(&number, DO, "did not come").unwrap();
    let refused = desk
        .record_visit(&number, DO, &json!({"outcome": "adjusted"}))
        .unwrap_err();
    assert!(refused.message.contains("cancelled"), "{refused:?}");
    assert_eq!(desk.find(&number, 5).unwrap()[0].stage_words(), "cancelled");
}

#[test]
fn a_pair_to_be_made_again_stays_until_its_remake_is_begun() {
    let (d, number) = rechecked();
    let mut desk = desk(&d);
    let decided = json!({"outcome": "remade", "cause": "laboratory", "tried": moves()});
    desk.record_visit(&number, DO, &decided).unwrap();
    assert!(is_listed(&desk, &number));
    let first = desk.begin_remake(&number, DO).unwrap().number;
    assert!(!is_listed(&desk, &number) && is_listed(&desk, &first));
    let open = desk.load(&number).unwrap();
    assert_eq!(open.job.stage_words(), "closed: remade");
    // Who pays is said later: that does not bring it back.
    desk.record_visit(&number, DO, &json!({"at_cost_of": "laboratory"}))
        .unwrap();
    assert!(!is_listed(&desk, &number));
    // The remake is given up: another can follow.
    desk.cancel(&first, DO, "the laboratory closed").unwrap();
    let second = desk.begin_remake(&number, DO).unwrap();
    assert_ne!(second.number, first);
}

#[test]
fn another_decision_about_a_closed_visit_opens_or_closes_it() {
    let (d, number) = rechecked();
    let mut desk = desk(&d);
    for (change, listed) in [
        (json!({"outcome": "returned"}), false),
        (json!({"outcome": "remade"}), true),
        (json!({"outcome": "adjusted"}), false),
        (
            json!({"outcome": "waiting", "review_on": "2026-10-26"}),
            true,
        ),
    ] {
        desk.record_visit(&number, DO, &change).unwrap();
        assert_eq!(is_listed(&desk, &number), listed, "{change}");
    }
}

#[test]
fn the_worklist_says_when_a_waiting_wearer_comes_back() {
    let (mut d, number) = rechecked();
    for (day, words) in [
        ("2026-10-26", "back 26 Oct"),
        ("2026-10-12", "back today"),
        ("2026-10-09", "back since 9 Oct"),
    ] {
        desk(&d)
            .record_visit(
                &number,
                DO,
                &json!({"outcome": "waiting", "review_on": day}),
            )
            .unwrap();
        d.input(Input::Poll);
        let shown = d.screen(80, 24);
        assert!(shown.contains(words), "{words}\n{shown}");
    }
}

#[test]
fn the_screens_say_that_the_visit_is_closed_and_how_to_open_it_again() {
    let (mut d, number) = rechecked();
    d.input(Input::Poll);
    d.keys(&["enter", "alt-v", "tab", "tab", "tab"]);
    d.keys(&["down", "down", "down", "enter", "enter"]);
    let shown = d.screen(80, 24);
    assert!(shown.contains("The visit is closed"), "{shown}");
    assert!(
        shown.contains("> at the cost of"),
        "who pays is next\n{shown}"
    );
    d.keys(&["esc", "esc", "/", &number]);
    let shown = d.screen(80, 24);
    assert!(shown.contains("closed: adjusted"), "{shown}");
    // The same entry again, and the last of its words: nothing yet.
    d.keys(&["enter", "alt-v", "up", "enter", "end", "enter"]);
    assert_eq!(
        desk(&d).load(&number).unwrap().job.visit.outcome,
        None,
        "{}",
        d.said()
    );
    assert!(is_listed(&desk(&d), &number));
}

#[test]
fn words_that_may_mean_a_disease_bring_a_closed_visit_back_until_somebody_was_told() {
    let (d, number) = rechecked();
    let mut desk = desk(&d);
    let mut record = |change: Value| desk.record_visit(&number, DO, &change).unwrap().job.stage();
    assert_eq!(record(json!({"outcome": "adjusted"})), Stage::Cancelled);
    // Said on the telephone, after the visit.
    assert_eq!(
        record(json!({"complaint": "sudden flashes since then"})),
        Stage::Measured
    );
    assert_eq!(
        record(json!({"warning_told": "Hugo Penrith"})),
        Stage::Cancelled
    );
    assert_eq!(record(json!({"warning_told": null})), Stage::Measured);
    assert_eq!(
        record(json!({"outcome": "re-test asked"})),
        Stage::Cancelled
    );
}

#[test]
fn no_remake_is_begun_over_words_that_may_mean_a_disease() {
    let (d, number) = rechecked();
    let mut desk = desk(&d);
    let decided = json!({"cause": "height", "outcome": "remade", "tried": moves()});
    desk.record_visit(&number, DO, &decided).unwrap();
    let words = json!({"complaints": ["health warning words"]});
    desk.record_visit(&number, DO, &words).unwrap();
    let refused = desk.begin_remake(&number, DO).unwrap_err();
    assert!(refused.message.contains("may mean a disease"));
    let told = json!({"warning_told": "Hugo Penrith"});
    desk.record_visit(&number, DO, &told).unwrap();
    desk.begin_remake(&number, DO).unwrap();
}
