//! What a remake costs, by keys: asked where a visit ends in one that the practice pays for and no
//! price is known, and by an action of its own.

use crate::driver::{Driver, clock, scenario};
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::{CostBearer, Outcome};
use rimbook::testing::tui::Screen;
use rimbook::testing::tui::screens::visit::Page;
use rimbook::testing::tui::visit_entries::VisitEntry;
use serde_json::json;

fn collected(number: &str) -> serde_json::Value {
    let mut job = scenario("S01")["job"].clone();
    job["past"] = json!(true);
    job["stage"] = json!("collected");
    job["number"] = json!(number);
    job
}

/// The outcome page of a visit about a collected pair.
fn at_outcome(d: &mut Driver, number: &str) {
    d.keys(&["/", number, "enter", "alt-v", "enter"]);
    assert_eq!(d.app.screen, Screen::Visit, "{}", d.said());
    while d.visit().page != Page::Outcome {
        d.keys(&["tab"]);
    }
}

/// Chooses a word for an entry of the outcome.
fn choose(d: &mut Driver, entry: VisitEntry, word: &str) {
    d.keys(&["home"]);
    while d.visit().entry() != Some(entry) {
        d.keys(&["down"]);
    }
    d.keys(&["enter", word, "enter"]);
}

fn price(d: &Driver) -> Option<u64> {
    Desk::open(&d.path, clock())
        .unwrap()
        .remake_price()
        .unwrap()
}

#[test]
fn a_remake_at_the_practices_cost_leads_to_its_price_once() {
    let mut d = Driver::signed_in(&[collected("P-1"), collected("P-2")]);
    at_outcome(&mut d, "P-1");
    choose(&mut d, VisitEntry::Outcome, "rem");
    assert!(d.app.dialog.is_none(), "nobody has said yet who pays");
    choose(&mut d, VisitEntry::AtCostOf, "prac");
    let screen = d.screen(80, 24);
    assert!(screen.contains("What does a remake cost"), "{screen}");
    let visit = d.in_book().job.visit;
    assert_eq!(visit.outcome, Some(Outcome::Remade));
    assert_eq!(
        visit.at_cost_of,
        Some(CostBearer::Practice),
        "kept before it is asked"
    );
    // What is no price is said beside it.
    d.keys(&["95 pounds", "enter"]);
    assert!(d.screen(80, 24).contains("such as 95"));
    d.keys(&["ctrl-u", "95", "enter"]);
    assert_eq!(price(&d), Some(95));
    assert!(d.said().contains("A remake costs 95"), "{}", d.said());
    assert_eq!(d.app.screen, Screen::Visit);
    // It is known now.
    d.keys(&["esc", "esc", "esc"]);
    at_outcome(&mut d, "P-2");
    choose(&mut d, VisitEntry::AtCostOf, "prac");
    choose(&mut d, VisitEntry::Outcome, "rem");
    assert!(d.app.dialog.is_none());
}

#[test]
fn it_is_asked_in_either_order_and_only_of_what_the_practice_pays() {
    let mut d = Driver::signed_in(&[collected("P-1")]);
    at_outcome(&mut d, "P-1");
    choose(&mut d, VisitEntry::AtCostOf, "prac");
    choose(&mut d, VisitEntry::Outcome, "adj");
    assert!(d.app.dialog.is_none(), "an adjustment is no remake");
    choose(&mut d, VisitEntry::Outcome, "rem");
    assert!(d.screen(80, 24).contains("What does a remake cost"));
    d.keys(&["esc"]);
    assert_eq!(price(&d), None);
    choose(&mut d, VisitEntry::AtCostOf, "lab");
    assert_eq!(
        d.in_book().job.visit.at_cost_of,
        Some(CostBearer::Laboratory)
    );
    assert!(d.app.dialog.is_none(), "the laboratory pays");
}

#[test]
fn it_is_not_asked_over_an_outcome_that_is_refused() {
    let mut d = Driver::signed_in(&[collected("P-1")]);
    at_outcome(&mut d, "P-1");
    d.keys(&["home", "sudden flashes", "enter"]);
    choose(&mut d, VisitEntry::AtCostOf, "prac");
    choose(&mut d, VisitEntry::Outcome, "rem");
    assert_eq!(d.in_book().job.visit.outcome, None, "refused");
    assert!(d.app.dialog.is_none(), "{}", d.screen(80, 24));
    assert!(d.said().contains("may mean a disease"), "{}", d.said());
    // What is entered next does not lead to it either; the outcome that is kept does.
    d.keys(&["end", "Marek Aldous", "enter"]);
    assert!(d.app.dialog.is_none());
    choose(&mut d, VisitEntry::Outcome, "rem");
    assert!(d.screen(80, 24).contains("What does a remake cost"));
    assert_eq!(d.in_book().job.visit.outcome, Some(Outcome::Remade));
}

#[test]
fn it_waits_until_somebody_has_said_who_decides() {
    let mut d = Driver::signed_in(&[collected("P-1")]);
    at_outcome(&mut d, "P-1");
    choose(&mut d, VisitEntry::AtCostOf, "prac");
    d.app.person = None;
    choose(&mut d, VisitEntry::Outcome, "rem");
    assert!(d.screen(80, 24).contains("Who are you"));
    d.keys(&["enter"]);
    assert!(d.screen(80, 24).contains("What does a remake cost"));
    assert_eq!(d.in_book().job.visit.outcome, Some(Outcome::Remade));
}

#[test]
fn an_action_of_the_figures_sets_and_takes_it_back_and_they_follow() {
    let mut d = Driver::signed_in(&[collected("P-1")]);
    at_outcome(&mut d, "P-1");
    choose(&mut d, VisitEntry::AtCostOf, "lab");
    choose(&mut d, VisitEntry::Outcome, "rem");
    d.keys(&[
        "esc",
        "esc",
        "esc",
        "f",
        ":",
        "remake price",
        "enter",
        "40",
        "enter",
    ]);
    assert_eq!(price(&d), Some(40));
    let costs = |d: &Driver| {
        let report = d
            .app
            .states
            .figures()
            .and_then(|f| f.report.as_ref())
            .expect("counted");
        format!("{:?}", report.pages).contains("at 40 each")
    };
    assert!(costs(&d), "the figures in front follow");
    // The present one is there to be changed.
    d.keys(&[":", "remake price", "enter"]);
    assert!(d.screen(80, 24).contains("40"));
    d.keys(&["ctrl-u", "0", "enter"]);
    assert_eq!(price(&d), None);
    assert!(!costs(&d));
    // Out of all bounds is refused by the desk.
    d.keys(&[":", "remake price", "enter", "2000000", "enter"]);
    assert_eq!(price(&d), None);
    assert!(d.said().contains("1 to 1000000"), "{}", d.said());
}

#[test]
fn nobody_sets_it_without_saying_who() {
    let mut d = Driver::with(&[collected("P-1")]);
    d.keys(&[":", "remake price", "enter", "40", "enter"]);
    assert_eq!(price(&d), None);
    assert!(d.said().contains("First say who"), "{}", d.said());
}
