//! The screen and the command of figures, on a small book that is counted by hand.

use crate::figures_book;

use std::process::{Command, Output};

use crate::driver::Driver;
use crate::figures_book::{Book, day};
use crate::screens_say::says;
use rimbook::testing::book::clock::Clock;
use rimbook::testing::tui::widgets::theme::Theme;
use serde_json::Value;

fn november() -> (Book, Driver) {
    let book = Book::november();
    let clock = Clock {
        fixed: Some(day("2026-12-02")),
    };
    let mut driver = Driver::on_day(book.path.clone(), clock);
    driver.keys(&["f", "left"]);
    (book, driver)
}

/// Each page: what it says at 80 by 24.
const PAGES: [&[&str]; 6] = [
    &[
        "[turn-round] laboratories send-backs rechecks acceptances measurements",
        "November 2026, compared with October 2026.",
        ">measured to ordered 7 0 (0-1) 3 ▄██····▄··▄· 2 (1)",
        "ordered to verified 4 6 (2-10) 14 ▄··▄··█····· none",
        "measured to collected 3 16 (10-33) 33 ····█··█···█ none",
        "calendar days, measured to ordered: 7, median 0, middle half 0 to 1, 9 in 10",
    ],
    &[
        "turn-round [laboratories] send-backs",
        "came late share (95 %) before",
        ">all laboratories 1/4 too few to tell none",
        "Glenside Surfacing (invent… 1/2 too few to tell none",
        "Harbour Bench (invented) 0/2 too few to tell none",
        "days late, of those that were median (half) 9 in 10 before",
        "all laboratories 1 1 (1-1) 1 none",
        "Harbour Bench (invented) 0 none none",
        "out today and overdue share (95 %) before",
        "all laboratories 1/3 too few to tell",
        "passed the first time share (95 %) in 12 parts before",
        "1 of 11",
        "came late, all laboratories: 1 of 4, too few to tell; before: none.",
        "Late: the first pair of an order came after the day it was due when it was",
    ],
    &[
        "laboratories [send-backs] rechecks",
        "rounds that ended with a send-back share (95 %) in 12 parts before",
        ">all laboratories 2/6 too few to tell ····█······· none",
        "Glenside Surfacing (invent… 1/3 too few to tell none",
        "Harbour Bench (invented) 1/3 too few to tell none",
        "send-backs in which a check failed share (95 %) before",
        "lens-power 1/2 too few to tell none",
        "none (reason in words) 1/2 too few to tell none",
        "rounds that ended with a send-back, all laboratories: 2 of 6, too few to tell;",
        "Rounds that ended in the period, by going back or with a verification that",
    ],
    &[
        "send-backs [rechecks] acceptances",
        "handed over before",
        ">new pairs 3 0",
        "for each pair handed over share (95 %) in 12 parts before",
        "rechecks begun 2/3 too few to tell ·········██· none",
        "rechecks ending in a remake 1/3 too few to tell none",
        "ordered as a remake 0/3 too few to tell none",
        "of the rechecks share (95 %) before",
        "pair from before the book 1/2 too few to tell none",
        "rechecks by cause share (95 %) before",
        "frame fit 1/2 too few to tell none",
        "not recorded yet 1/2 too few to tell none",
        "remakes by cause share (95 %) before",
        "1 of 12",
        "handed over, new pairs: 3; before: 0.",
        "Published: 2.1 % of pairs came back (95 % CI 1.6-2.7), pooled over studies;",
    ],
    &[
        "rechecks [acceptances] measurements",
        "moves through a gate share (95 %) before",
        ">rested on an acceptance 1/15 too few to tell 0/1",
        "findings accepted in 12 parts before",
        "all 1 ··█·········",
        "accepted, by check share (95 %) before",
        "pd-repeat 1/1 too few to tell none",
        "accepted, by role share (95 %) before",
        "dispensing optician 1/1 too few to tell none",
        "accepted, by person share (95 %) before",
        "Ines Calloway 1/1 too few to tell none",
        "moves through a gate, rested on an acceptance: 1 of 15, too few to tell;",
        "An acceptance is a decision, not a fault.",
    ],
    &[
        "acceptances [measurements]",
        "pairs ordered share (95 %) before",
        ">something measured twice 1/7 too few to tell 0/1",
        "strong prescriptions ordered share (95 %) before",
        "no tested vertex distance 0/0 none none",
        "taken twice share (95 %) before",
        "centration distance 1/7 too few to tell 0/1",
        "near centration 0/0 none none",
        "height 0/7 too few to tell 0/1",
        "vertex distance 0/7 too few to tell 0/1",
        "1 of 18",
        "pairs ordered, something measured twice: 1 of 7, too few to tell; before: 0 of",
        "As the pair was ordered. Limits are the practice's thresholds.",
    ],
];

#[test]
fn each_page_shows_its_numbers_at_both_sizes() {
    let (_book, mut d) = november();
    insta::assert_snapshot!("turn_round_80x24", d.screen(80, 24));
    for wanted in PAGES {
        says(&d.screen(80, 24), wanted);
        d.keys(&["tab"]);
    }
    // A wide window has room for the whole name, and for more rows.
    says(&d.screen(120, 40), &PAGES[0][..5]);
    d.keys(&["tab"]);
    says(
        &d.screen(120, 40),
        &[
            "Glenside Surfacing (invented) 1/2 too few to tell none",
            "passed the first time share (95 %) in 12 parts before",
            "all laboratories 2/4 too few to tell █··█········ none",
            "Harbour Bench (invented) 1/2 too few to tell none",
        ],
    );
}

#[test]
fn the_shapes_are_there_in_plain_ascii() {
    let (_book, d) = november();
    let shown = d.screen_in(80, 24, Theme::new(true, None).ascii(true));
    assert!(!shown.contains('█') && !shown.contains('▁'), "{shown}");
    assert!(
        shown.contains("488....4..4.") && shown.contains("....8..8...8"),
        "{shown}"
    );
}

#[test]
fn keys_go_from_period_to_period_and_no_further_than_today() {
    let (_book, mut d) = november();
    assert!(
        d.screen(80, 24)
            .contains("November 2026, compared with October 2026.")
    );
    d.keys(&["right"]);
    assert!(
        d.screen(80, 24)
            .contains("December 2026, compared with November 2026. The period is not over.")
    );
    d.keys(&["right"]);
    assert!(d.said().contains("Nothing has happened yet"));
    assert!(d.screen(80, 24).contains("December 2026"));
    d.keys(&["q"]);
    assert!(
        d.screen(80, 24)
            .contains("quarter 4 of 2026, compared with quarter 3 of 2026.")
    );
    d.keys(&["y"]);
    assert!(d.screen(80, 24).contains("2026, compared with 2025."));
    d.keys(&["left", "m"]);
    assert!(
        d.screen(80, 24)
            .contains("December 2025, compared with November 2025.")
    );
}

#[test]
fn the_selected_figure_is_said_in_full_and_stays_in_view() {
    let (_book, mut d) = november();
    d.keys(&["tab", "end"]);
    let shown = d.screen(80, 24);
    assert!(shown.contains("passed the first time, "), "{shown}");
    assert!(shown.lines().any(|l| l.starts_with('>')), "{shown}");
    d.keys(&["up", "up"]);
    assert!(
        d.screen(80, 24)
            .contains("passed the first time, all laboratories: 2 of 4")
    );
    d.keys(&["shift-tab", "esc"]);
    assert!(d.screen(80, 24).contains("worklist"));
}

fn run(book: &Book, words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_rimbook"))
        .args(words)
        .env("RIMBOOK_DB", &book.path)
        .env("HOME", book.dir.path())
        .env("RIMBOOK_TODAY", "2026-12-02")
        .output()
        .unwrap()
}

fn out(book: &Book, words: &[&str]) -> String {
    let done = run(book, words);
    assert_eq!(done.status.code(), Some(0), "{done:?}");
    String::from_utf8(done.stdout).unwrap()
}

#[test]
fn the_command_says_the_same_as_text_json_and_csv() {
    let book = Book::november();
    let text = out(&book, &["figures", "--month", "2026-11"]);
    insta::assert_snapshot!("figures_as_text", text);

    let json: Value =
        serde_json::from_str(&out(&book, &["figures", "--month", "2026-11", "--json"])).unwrap();
    assert_eq!(json["period"]["from"], "2026-11-01");
    assert_eq!(json["period"]["to"], "2026-12-01");
    let lines = json["pages"][0]["lines"].as_array().unwrap();
    assert_eq!(lines[1]["label"], "ordered to verified");
    assert_eq!(lines[1]["now"]["kind"], "days");
    assert_eq!(lines[1]["now"]["median"], 6);
    let late = &json["pages"][1]["lines"][0]["now"];
    assert_eq!(
        (&late["kind"], &late["count"], &late["of"]),
        (&"rate".into(), &1.into(), &4.into())
    );
    assert_eq!(late["too_few"], true);

    let csv = out(&book, &["figures", "--month", "2026-11", "--format", "csv"]);
    assert!(csv.lines().count() > 10 && csv.split_inclusive('\n').all(|l| l.ends_with("\r\n")));
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().collect::<Result<_, _>>().unwrap();
    let of_json: usize = json["pages"]
        .as_array()
        .unwrap()
        .iter()
        .map(|p| p["lines"].as_array().unwrap().len())
        .sum();
    assert_eq!(rows.len(), of_json);
    assert!(
        rows.iter()
            .any(|r| &r[4] == "ordered to verified" && &r[11] == "6")
    );
}

#[test]
fn days_that_are_given_belong_both_to_the_period() {
    let book = Book::november();
    let json = |words: &[&str]| -> Value {
        serde_json::from_str(&out(&book, &[&["--json", "figures"], words].concat())).unwrap()
    };
    let of = |json: &Value| json["pages"][0]["lines"][2]["now"]["number"].clone();
    // Collected on 12, 20 and 30 November.
    assert_eq!(
        of(&json(&["--from", "2026-11-12", "--to", "2026-11-20"])),
        2
    );
    assert_eq!(
        of(&json(&["--from", "2026-11-13", "--to", "2026-11-29"])),
        1
    );
    assert_eq!(of(&json(&["--quarter", "2026-4"])), 3);
    assert_eq!(of(&json(&["--year", "2026"])), 3);
    assert_eq!(of(&json(&[])), 0, "December, as it is");
}

#[test]
fn the_price_of_a_remake_is_said_by_somebody_and_taken_back_with_nothing() {
    let book = Book::november();
    let price = [
        "figures",
        "--remake-price",
        "95",
        "--as",
        figures_book::OPTICIAN,
    ];
    assert!(out(&book, &price).contains("a remake costs 95"));
    let text = out(&book, &["figures", "--month", "2026-11"]);
    assert!(text.contains("rechecks remade, at 95 each"), "{text}");
    let nobody = run(&book, &["figures", "--remake-price", "95"]);
    assert_eq!(nobody.status.code(), Some(2));
    out(
        &book,
        &[
            "figures",
            "--remake-price",
            "0",
            "--as",
            figures_book::OPTICIAN,
        ],
    );
    assert!(!out(&book, &["figures", "--month", "2026-11"]).contains("estimated cost"));
}

#[test]
fn a_period_that_cannot_be_read_is_wrong_usage() {
    let book = Book::november();
    for (words, said) in [
        (
            &["--month", "2026-13"][..],
            "is no month: write it as 2026-11",
        ),
        (&["--month", "11/2026"], "is no month"),
        (&["--quarter", "2026-5"], "is no quarter"),
        (&["--year", "26"], "is no year"),
        (
            &["--from", "2026-11-02", "--to", "2026-11-01"],
            "the first day comes first",
        ),
        (&["--from", "2026-11-02"], "--to"),
    ] {
        let done = run(&book, &[&["figures"], words].concat());
        assert_eq!(done.status.code(), Some(2), "{words:?}");
        let err = String::from_utf8_lossy(&done.stderr).into_owned();
        assert!(err.contains(said), "{words:?}: {err}");
    }
}
