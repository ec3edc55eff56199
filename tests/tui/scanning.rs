//! Scanning a tray: what counts as a scan, by times that are given; and what a scan does to every
//! screen, by the event itself.

use crate::driver;

use std::time::Duration;

use crate::driver::{Driver, optician, scenario};
use proptest::prelude::*;
use rimbook::testing::book::desk::{Desk, Security};
use rimbook::testing::job::tray_code::encode;
use rimbook::testing::job::{Gate, Section};
use rimbook::testing::tui::Screen;
use rimbook::testing::tui::key::Key;
use rimbook::testing::tui::question::Dialog;
use rimbook::testing::tui::term::burst::{Burst, GAP};
use rimbook::testing::tui::update::Input;
use serde_json::{Value, json};

/// Keys as a text has them: line ends and tabs as the terminal tells them.
fn keys(text: &str) -> Vec<Input> {
    text.chars()
        .map(|c| {
            let name = match c {
                '\r' => "enter".to_owned(),
                '\n' => "ctrl-j".to_owned(),
                '\t' => "tab".to_owned(),
                '\u{1b}' => "end".to_owned(),
                ' ' => "space".to_owned(),
                c => c.to_string(),
            };
            Input::Key(Key::parse(&name).unwrap())
        })
        .collect()
}

/// What comes of keys, each so many milliseconds after the one before; then of a second of silence.
fn after(typed: &[(&str, u64)]) -> Vec<Input> {
    let (mut burst, mut at, mut out) = (Burst::default(), Duration::from_secs(9), Vec::new());
    for (text, gap) in typed {
        for key in keys(text) {
            at += Duration::from_millis(*gap);
            out.extend(burst.take(key, at, false));
        }
    }
    out.extend(burst.pass(at + Duration::from_secs(1)));
    assert_eq!(burst.until(), None, "nothing is kept for ever");
    out
}

fn scan(number: &str) -> Vec<Input> {
    vec![Input::Scanned(number.to_owned())]
}

fn code(number: &str) -> String {
    encode(number).unwrap()
}

#[test]
fn a_code_typed_as_fast_as_a_scanner_is_a_scan_whatever_ends_it() {
    let code = code("1042");
    for end in ["\r", "\n", "\r\n", "\t", ""] {
        for ahead in ["", "]C0", "]Q1"] {
            for gap in [0, 1, 16, 30] {
                let typed = format!("{ahead}{code}{end}");
                assert_eq!(after(&[(&typed, gap)]), scan("1042"), "{typed:?} {gap}");
            }
        }
    }
    assert_eq!(after(&[(&code.to_lowercase(), 5)]), scan("1042"));
}

#[test]
fn the_same_keys_typed_by_a_person_stay_keys() {
    let typed = format!("{}\r", code("1042"));
    for gap in [41, 60, 100, 250, 1000] {
        assert_eq!(after(&[(&typed, gap)]), keys(&typed), "{gap} ms");
    }
}

#[test]
fn one_slow_key_within_makes_typing_of_it() {
    let typed = format!("{}\r", code("1042"));
    let (first, rest) = typed.split_at(3);
    let (slow, rest) = rest.split_at(1);
    assert_eq!(after(&[(first, 5), (slow, 90), (rest, 5)]), keys(&typed));
}

#[test]
fn a_code_that_is_not_right_to_the_last_character_is_passed_on_as_it_came() {
    let right = code("1042");
    for wrong in [
        "R1042",
        "R10420\r",
        "R1042!\r",
        "1042\r",
        "Roberts\r",
        "R\r",
        "]\r",
        "]C0\r",
        "]C\t",
    ] {
        assert_ne!(wrong.trim(), right);
        assert_eq!(after(&[(wrong, 2)]), keys(wrong), "{wrong:?}");
    }
    let within = format!("x{right}\r");
    assert_eq!(after(&[(&within, 2)]), keys(&within));
    let behind = format!("{right} \r");
    assert_eq!(after(&[(&behind, 2)]), keys(&behind));
    let twice = format!("{right}{right}\r");
    assert_eq!(after(&[(&twice, 2)]), keys(&twice));
}

#[test]
fn two_scans_one_after_the_other_are_two() {
    let both = format!("{}\r{}\r", code("1042"), code("7"));
    let expected = [scan("1042"), scan("7")].concat();
    assert_eq!(after(&[(&both, 2)]), expected);
}

#[test]
fn a_line_feed_of_its_own_is_a_key() {
    let typed = format!("{}\r", code("1042"));
    let expected = [scan("1042"), keys("\n")].concat();
    assert_eq!(after(&[(&typed, 2), ("\n", 200)]), expected);
}

#[test]
fn keys_before_and_behind_a_scan_keep_their_place() {
    let code = format!("{}\r", code("1042"));
    let (first, rest) = code.split_at(1);
    let expected = [keys("n"), scan("1042"), keys("q")].concat();
    assert_eq!(
        after(&[("n", 2), (first, 300), (rest, 2), ("q", 300)]),
        expected
    );
    // A key that types nothing ends what was typed before.
    let expected = [keys("12\u{1b}"), scan("1042")].concat();
    assert_eq!(after(&[("12\u{1b}", 2), (&code, 2)]), expected);
}

#[test]
fn what_lay_there_when_it_was_looked_for_came_in_one_burst() {
    let mut burst = Burst::default();
    let mut out = Vec::new();
    for (n, key) in (0..).zip(keys(&format!("{}\r", code("1042")))) {
        // A busy program that looks only every second.
        out.extend(burst.take(key, Duration::from_secs(n), n > 0));
    }
    assert_eq!(out, scan("1042"));
}

#[test]
fn no_key_is_held_longer_than_a_moment_and_most_are_not_held() {
    let mut burst = Burst::default();
    let start = Duration::from_secs(1);
    for text in ["a", "1", " ", "/", "q", "é"] {
        assert_eq!(burst.take(keys(text).remove(0), start, false), keys(text));
    }
    let at = start + Duration::from_secs(1);
    assert_eq!(burst.take(keys("R").remove(0), at, false), []);
    assert_eq!(burst.until(), Some(at + GAP));
    assert_eq!(burst.pass(at + GAP / 2), []);
    assert_eq!(burst.pass(at + GAP), keys("R"));
}

#[test]
fn a_paste_lets_go_what_is_held_before_it() {
    let mut burst = Burst::default();
    let mut out = burst.take(keys("R").remove(0), Duration::from_secs(1), false);
    let paste = Input::Paste("18.5".to_owned());
    out.extend(burst.take(paste.clone(), Duration::from_secs(1), true));
    assert_eq!(out, [keys("R"), vec![paste]].concat());
}

#[test]
fn keys_that_woke_a_locked_screen_are_not_passed_on_but_a_scan_is_one_still() {
    let mut burst = Burst::default();
    assert_eq!(
        burst.take(keys("R").remove(0), Duration::from_secs(1), false),
        []
    );
    burst.spoil();
    assert_eq!(burst.pass(Duration::from_secs(2)), []);
    let mut out = Vec::new();
    for key in keys(&format!("{}\r", code("1042"))) {
        out.extend(burst.take(key, Duration::from_secs(3), false));
        if burst.until().is_some() {
            burst.spoil();
        }
    }
    assert_eq!(out, scan("1042"));
}

proptest! {
    #[test]
    fn without_a_right_code_every_key_comes_out_unchanged_and_in_order(
        typed in "[Rr0-9A-Fa-f\\]C \r\n\t\u{1b}]{0,40}",
        gaps in prop::collection::vec(0_u64..120, 40),
        waiting in prop::collection::vec(any::<bool>(), 40),
    ) {
        let (mut burst, mut at, mut out) = (Burst::default(), Duration::ZERO, Vec::new());
        let all = keys(&typed);
        for ((key, gap), waits) in all.iter().zip(gaps).zip(waiting) {
            at += Duration::from_millis(gap);
            out.extend(burst.take(key.clone(), at, waits));
        }
        out.extend(burst.finish());
        // By chance some are codes; then nothing is said of them here.
        prop_assume!(!out.iter().any(|i| matches!(i, Input::Scanned(_))));
        prop_assert_eq!(out, all);
    }

    #[test]
    fn every_code_is_a_scan_and_typed_slowly_it_is_none(number in "[0-9A-Z]{0,19}[0-9]", gap in 0_u64..35, slow in 41_u64..500) {
        let typed = format!("]C1{}\r", code(&number));
        prop_assert_eq!(after(&[(&typed, gap)]), scan(&number));
        prop_assert_eq!(after(&[(&typed, slow)]), keys(&typed));
    }
}

fn jobs() -> Vec<Value> {
    ["S01", "S02"]
        .iter()
        .map(|id| scenario(id)["job"].clone())
        .collect()
}

fn scanned(d: &mut Driver, number: &str) {
    d.input(Input::Scanned(number.to_owned()));
}

fn open(d: &Driver) -> String {
    let job = d.app.job.as_ref().expect("an open job");
    job.open.number.clone()
}

#[test]
fn a_scan_opens_the_job_from_every_screen() {
    for (before, screen) in [
        (&[][..], Screen::Worklist),
        (&["enter"], Screen::Job),
        (&["enter", "ctrl-g"], Screen::Gate),
        (&["/", "mar"], Screen::Lookup),
        (&["c"], Screen::Collections),
        (&["enter", "f6"], Screen::Pictures),
        (&["enter", "f7"], Screen::Choices),
        (&["f8"], Screen::Workbench),
        (&["enter", "f8"], Screen::Workbench),
    ] {
        for number in ["1001", "1002"] {
            let mut d = Driver::signed_in(&jobs());
            d.keys(before);
            assert_eq!(d.app.screen, screen, "{before:?}");
            scanned(&mut d, number);
            assert_eq!(d.app.screen, Screen::Job, "{before:?}: {}", d.said());
            assert_eq!(open(&d), number);
            assert!(d.said().contains(number), "{}", d.said());
            let shown = d.screen(80, 24);
            assert!(
                shown.contains(&format!("Job {number}, from its tray.")),
                "{shown}"
            );
            d.keys(&["esc"]);
            assert_ne!(d.app.screen, Screen::Welcome);
        }
    }
}

#[test]
fn an_ordered_job_is_opened_at_its_readings_even_when_it_is_open_elsewhere() {
    let mut d = Driver::signed_in(&jobs());
    let mut desk = Desk::open(&d.path, driver::clock()).unwrap();
    let moved = desk
        .advance("1001", Gate::Ordered, &optician().name, None)
        .unwrap();
    assert!(moved.moved, "{:?}", moved.findings);
    drop(desk);
    scanned(&mut d, "1001");
    let section = |d: &Driver| d.app.states.form().unwrap().section();
    assert_eq!(section(&d), Some(Section::Readings));
    d.keys(&["alt-1"]);
    assert_eq!(section(&d), Some(Section::Wearer));
    scanned(&mut d, "1001");
    assert_eq!(section(&d), Some(Section::Readings));
    assert!(
        d.said().contains("what is read of the pair"),
        "{}",
        d.said()
    );
}

#[test]
fn an_entry_that_is_being_typed_is_kept_as_a_draft_and_the_scan_is_not_typed_into_it() {
    let mut d = Driver::signed_in(&jobs());
    d.keys(&["enter", "down", "down", "01777 9"]);
    let first = open(&d);
    let other = if first == "1001" { "1002" } else { "1001" };
    scanned(&mut d, other);
    assert_eq!(open(&d), other);
    assert!(d.app.states.form().and_then(|f| f.edit()).is_none());
    let drafts = Desk::open(&d.path, driver::clock())
        .unwrap()
        .drafts(&first)
        .unwrap();
    assert_eq!(
        drafts.iter().map(|d| d.text.as_str()).collect::<Vec<_>>(),
        ["01777 9"]
    );
    scanned(&mut d, &first);
    let edit = d
        .app
        .states
        .form()
        .and_then(|f| f.edit())
        .cloned()
        .expect("taken up again");
    assert_eq!(edit.line.text(), "01777 9");
    assert!(d.said().contains("enter keeps it"), "{}", d.said());
    // The tray of the job that is being typed in changes nothing.
    scanned(&mut d, &first);
    let edit = d
        .app
        .states
        .form()
        .and_then(|f| f.edit())
        .cloned()
        .expect("still typed");
    assert_eq!(edit.line.text(), "01777 9");
    assert_eq!(open(&d), first);
}

#[test]
fn a_dialog_that_loses_nothing_is_left_and_one_with_an_answer_in_it_stays() {
    for before in [&["?"][..], &[":"], &[":", "look"], &["w"], &["n"]] {
        let mut d = Driver::signed_in(&jobs());
        d.keys(before);
        assert!(d.app.dialog.is_some(), "{before:?}");
        scanned(&mut d, "1002");
        assert!(d.app.dialog.is_none(), "{before:?}");
        assert_eq!(open(&d), "1002", "{before:?}");
    }
    let mut d = Driver::signed_in(&jobs());
    d.keys(&["n", "Ada Bl"]);
    scanned(&mut d, "1002");
    assert_eq!(d.app.screen, Screen::Worklist);
    assert!(d.app.job.is_none());
    let shown = d.screen(80, 24);
    assert!(
        shown.contains("First answer what is asked, or leave it with Esc"),
        "{shown}"
    );
    assert!(shown.contains("> Ada Bl"), "{shown}");
    // Nobody has said who is acting: the value waits for it.
    let mut d = Driver::with(&jobs());
    d.keys(&["enter", "Maribel Holt", "enter"]);
    assert!(matches!(d.app.dialog, Some(Dialog::Choose { .. })));
    scanned(&mut d, "1002");
    assert!(matches!(d.app.dialog, Some(Dialog::Choose { .. })));
    assert!(d.said().contains("Esc"), "{}", d.said());
}

#[test]
fn a_tray_of_another_book_and_one_of_a_cancelled_job_are_told() {
    let mut d = Driver::signed_in(&jobs());
    d.keys(&["enter", "ctrl-g"]);
    scanned(&mut d, "9999");
    assert_eq!(d.app.screen, Screen::Gate, "what was in front stays there");
    assert!(
        d.said().contains("job 9999, which is not in this book"),
        "{}",
        d.said()
    );
    let mut desk = Desk::open(&d.path, driver::clock()).unwrap();
    desk.cancel("1002", &optician().name, "moved away").unwrap();
    scanned(&mut d, "1002");
    assert_eq!(open(&d), "1002");
    assert!(d.said().contains("1002 is cancelled"), "{}", d.said());
    assert!(d.app.notice.as_ref().unwrap().bad);
}

#[test]
fn a_locked_screen_stays_locked_and_says_so() {
    let d = Driver::with(&jobs());
    let mut desk = Desk::open(&d.path, driver::clock()).unwrap();
    let name = optician().name;
    desk.set_secret(&name, "4710", &name).unwrap();
    let on = Security {
        sign_in: true,
        idle_minutes: 5,
    };
    desk.set_security(on, &name).unwrap();
    drop(desk);
    let mut locked = Driver::on(d.path.clone());
    locked.keys(&["47"]);
    for input in [
        Input::Scanned("1002".to_owned()),
        Input::Paste(format!("{}\n", code("1002"))),
    ] {
        locked.input(input);
        let lock = locked.app.lock.as_ref().expect("still locked");
        assert_eq!(lock.line.count(), 2, "nothing is typed into the PIN");
        assert!(locked.app.job.is_none() && locked.app.dialog.is_none());
        let shown = locked.screen(80, 24);
        assert!(
            shown.contains("The screen is locked, so the scan opened nothing"),
            "{shown}"
        );
        assert!(!shown.contains("1002"), "{shown}");
    }
    locked.keys(&["10", "enter"]);
    assert!(locked.app.lock.is_none(), "{:?}", locked.app.lock);
}

#[test]
fn without_a_book_a_scan_says_that_there_is_none() {
    let dir = tempfile::tempdir().unwrap();
    let mut d = Driver::on(dir.path().join("none.db"));
    scanned(&mut d, "1001");
    assert_eq!(d.app.screen, Screen::Welcome);
    assert!(d.app.dialog.is_some() && !d.app.quit);
    assert!(d.said().contains("no book yet"), "{}", d.said());
}

#[test]
fn a_pasted_code_opens_and_any_other_paste_is_text() {
    let mut d = Driver::signed_in(&jobs());
    d.input(Input::Paste(format!("]C0{}\r\n", code("1002"))));
    assert_eq!(open(&d), "1002");
    d.keys(&["enter"]);
    d.input(Input::Paste("R1042!".to_owned()));
    let edit = d
        .app
        .states
        .form()
        .and_then(|f| f.edit())
        .cloned()
        .expect("typed");
    assert!(edit.line.text().contains("R1042!"), "{edit:?}");
    let mut d = Driver::signed_in(&jobs());
    d.keys(&["/"]);
    d.input(Input::Paste("Maribel".to_owned()));
    assert_eq!(d.app.states.lookup().unwrap().line.text(), "Maribel");
    d.input(Input::Paste(code("1001")));
    assert_eq!(open(&d), "1001");
}

#[test]
fn a_scan_records_nothing() {
    let mut d = Driver::signed_in(&jobs());
    let count = |d: &Driver| {
        let desk = Desk::open(&d.path, driver::clock()).unwrap();
        desk.history("1001").unwrap().len() + desk.history("1002").unwrap().len()
    };
    let before = count(&d);
    scanned(&mut d, "1001");
    scanned(&mut d, "1002");
    scanned(&mut d, "77");
    assert_eq!(count(&d), before);
}

/// What the program answers to a command.
fn run(d: &Driver, arguments: &[&str]) -> (Option<i32>, Value) {
    let done = std::process::Command::new(env!("CARGO_BIN_EXE_rimbook"))
        .arg("--json")
        .args(arguments)
        .env("RIMBOOK_DB", &d.path)
        .env("RIMBOOK_TODAY", "2026-10-12")
        .output()
        .unwrap();
    let answer = serde_json::from_slice(&done.stdout).unwrap();
    (done.status.code(), answer)
}

#[test]
fn on_the_command_line_a_code_stands_for_its_number() {
    let d = Driver::with(&jobs());
    let one = code("1001");
    let (status, shown) = run(&d, &["show", &one]);
    assert_eq!((status, &shown["number"]), (Some(0), &json!("1001")));
    let (_, checked) = run(&d, &["check", &format!("]C0{one}")]);
    assert_eq!(checked["number"], "1001");
    let (_, both) = run(&d, &["export", "1002", &one.to_lowercase()]);
    assert_eq!(both[0]["number"], "1002");
    assert_eq!(both[1]["number"], "1001");
    let (_, cancelled) = run(
        &d,
        &[
            "cancel",
            &one,
            "--as",
            "Ines Calloway",
            "--reason",
            "moved away",
        ],
    );
    assert_eq!(cancelled["number"], "1001");
    // No code, and the code of a job that is not there, are numbers that are not there.
    let (status, refused) = run(&d, &["show", "R1001"]);
    assert_eq!(status, Some(1), "{refused}");
    let (status, refused) = run(&d, &["show", &code("4711")]);
    assert_eq!(status, Some(1));
    assert!(
        refused["error"]["message"]
            .as_str()
            .unwrap()
            .contains("4711"),
        "{refused}"
    );
}

#[test]
fn on_the_command_line_a_code_is_taken_by_what_follows_a_pair_too() {
    let mut collected = jobs().remove(0);
    collected["past"] = json!(true);
    collected["stage"] = json!("collected");
    let d = Driver::with(&[collected]);
    let one = code("1001");
    let by = ["--as", "Ines Calloway"];
    let does = |arguments: &[&str]| {
        let (status, said) = run(&d, &[arguments, &by].concat());
        assert_eq!(status, Some(0), "{arguments:?}: {said}");
        said
    };
    let kept = does(&["repair", &one, "--kind", "screw"]);
    assert_eq!(kept["number"], "1001");
    let told = does(&["contact", &one, "--how", "letter"]);
    assert_eq!(told["number"], "1001");
    let recheck = does(&["recheck", &one])["number"]
        .as_str()
        .unwrap()
        .to_owned();
    let (status, seen) = run(&d, &["visit", &code(&recheck)]);
    assert_eq!(status, Some(0), "{seen}");
    // No remake was decided on: what is refused is the job that the code stands for.
    let (status, refused) = run(&d, &[&["remake", &code(&recheck)], &by[..]].concat());
    let message = refused["error"]["message"].as_str().unwrap();
    assert_eq!(status, Some(1), "{refused}");
    assert!(!message.contains(&code(&recheck)), "{message}");
    let begun = does(&["begin", &one, "--for", "reglaze"]);
    assert_ne!(begun["number"], "1001");
    let (_, shown) = run(&d, &["show", begun["number"].as_str().unwrap()]);
    assert_eq!(shown["linked_to"], "1001");
    let (status, text) = run(&d, &["print", &one, "--what", "tray", "--format", "text"]);
    assert_eq!(status, Some(0), "{text}");
    assert_eq!(text["number"], "1001");
}

#[test]
fn a_job_whose_number_looks_like_a_code_is_meant_by_its_number() {
    // A number that a book before this one gave, which happens to be the code of job 1001.
    let mut odd = jobs().remove(1);
    odd["number"] = json!(code("1001"));
    odd["past"] = json!(true);
    odd["stage"] = json!("collected");
    let d = Driver::with(&[jobs().remove(0), odd]);
    let (status, shown) = run(&d, &["show", &code("1001")]);
    assert_eq!(status, Some(0), "{shown}");
    assert_eq!(shown["number"], json!(code("1001")));
    let (_, shown) = run(&d, &["show", &code(&code("1001"))]);
    assert_eq!(shown["number"], json!(code("1001")));
}

#[test]
fn the_code_that_the_guide_shows_is_a_right_one() {
    let guide = include_str!("../../docs/guide.md");
    assert!(guide.contains(&format!("rimbook show {}", code("1042"))));
    assert!(guide.contains(&format!("one key in {} ms", GAP.as_millis())));
}

#[test]
fn erasing_takes_no_code() {
    let d = Driver::with(&jobs());
    let one = code("1001");
    let (status, _) = run(
        &d,
        &[
            "erase",
            &one,
            "--as",
            "Ines Calloway",
            "--reason",
            "asked for",
            "--confirm",
            &one,
        ],
    );
    assert_eq!(status, Some(1));
    assert!(
        Desk::open(&d.path, driver::clock())
            .unwrap()
            .load("1001")
            .is_ok()
    );
}
