//! The help of every screen says all that can be done there, whole; what the pages call an action
//! or a command is one.

use std::collections::BTreeSet;

use crate::driver::{Driver, scenario};
use rimbook::testing::cli::manual::manual;
use rimbook::testing::job::fields;
use rimbook::testing::practice::{Practice, settings};
use rimbook::testing::tui::Screen;
use rimbook::testing::tui::action::{ACTIONS, Action, Scope};
use rimbook::testing::tui::help::{TYPED, entries};
use rimbook::testing::tui::key::Key;
use rimbook::testing::tui::palette::matching;
use rimbook::testing::tui::question::Dialog;
use serde_json::{Value, json};

const GUIDE: &str = include_str!("../../docs/guide.md");

/// Every screen by the scope of its keys, but for the entry, whose keys stand with the job's.
const SCREENS: [(Screen, Scope); 12] = [
    (Screen::Worklist, Scope::Worklist),
    (Screen::Job, Scope::Job),
    (Screen::Gate, Scope::Gate),
    (Screen::Lookup, Scope::Lookup),
    (Screen::Collections, Scope::Collections),
    (Screen::Parcel, Scope::Parcel),
    (Screen::Pictures, Scope::Pictures),
    (Screen::Choices, Scope::Choices),
    (Screen::Workbench, Scope::Workbench),
    (Screen::Figures, Scope::Figures),
    (Screen::Aloud, Scope::Aloud),
    (Screen::Visit, Scope::Visit),
];

fn with_job() -> Driver {
    let mut d = Driver::signed_in(&[scenario("S01")["job"].clone()]);
    d.keys(&["1001", "enter"]);
    d
}

/// What the help shows with an entry at its top: the words beside the keys, as they are read.
fn shown_from(d: &mut Driver, top: usize) -> String {
    d.app.dialog = Some(Dialog::Help { top });
    let screen = d.screen(80, 24);
    d.app.dialog = None;
    let inside = |line: &str| {
        let cell = line.split('│').nth(1)?;
        Some(cell.trim().to_owned())
    };
    let lines: Vec<String> = screen.lines().filter_map(inside).collect();
    let words: Vec<&str> = lines.iter().flat_map(|l| l.split_whitespace()).collect();
    words.join(" ")
}

#[test]
fn the_help_of_each_screen_shows_every_action_of_it_whole() {
    let mut d = with_job();
    let mut seen = BTreeSet::new();
    for (screen, scope) in SCREENS {
        d.app.begin(screen);
        assert_eq!(d.app.scope(), scope);
        let all = entries(d.app.scope(), &d.app.keymap);
        for (top, (keys, help)) in all.iter().enumerate().filter(|(_, e)| !e.1.is_empty()) {
            let from = top.min(all.len().saturating_sub(6));
            let shown = shown_from(&mut d, from);
            // Broken over several lines, a sentence has no keys in it: only its first line has.
            let wanted = format!("{keys} {help}");
            assert!(shown.contains(&wanted), "{scope:?}: {wanted}\n{shown}");
        }
        let mut scopes = vec![scope, Scope::Everywhere];
        if scope == Scope::Job {
            scopes.push(Scope::Entry);
        }
        for e in ACTIONS {
            if e.scopes.iter().any(|s| scopes.contains(s)) {
                assert!(all.iter().any(|(_, h)| h == e.help), "{scope:?}: {}", e.id);
                seen.insert(e.id);
            }
        }
    }
    assert_eq!(seen.len(), ACTIONS.len(), "no action is without a screen");
}

#[test]
fn the_last_entry_of_the_help_is_reached_and_the_first_again() {
    let mut d = with_job();
    d.keys(&["f1", "end"]);
    let last = entries(d.app.scope(), &d.app.keymap).pop().unwrap().1;
    let shown = d.screen(80, 24);
    let first_words: Vec<&str> = last.split(' ').take(5).collect();
    assert!(shown.contains(&first_words.join(" ")), "{shown}");
    d.keys(&["up"]);
    let before = d.screen(80, 24);
    d.keys(&["up"]);
    assert_ne!(d.screen(80, 24), before, "each key moves it");
    d.keys(&["home"]);
    assert!(d.screen(80, 24).contains("Shows what holds the next move"));
}

#[test]
fn every_action_is_found_by_the_name_that_is_printed() {
    let mut d = with_job();
    for (screen, scope) in SCREENS {
        d.app.begin(screen);
        for e in ACTIONS.iter().filter(|e| e.scopes.contains(&scope)) {
            // The palette itself and the letters beside the arrows are keys only.
            if matches!(e.action, Action::DownToo | Action::UpToo) {
                continue;
            }
            let found = matching(&d.app, e.id);
            let at = found.iter().position(|a| *a == e.action);
            assert_eq!(at, Some(0), "{scope:?} {}", e.id);
        }
    }
}

/// Types a text into an entry of a new job with a prescription and keeps it; returns some of the
/// values that it then has.
fn typed(text: &str, section: &str, path: &str, paths: &[&str]) -> Vec<Value> {
    let mut d = Driver::signed_in(&[]);
    d.keys(&["n", "Una Merrowby", "enter", "alt-2"]);
    to(&mut d, "prescription.right.sphere_d");
    d.keys(&["R -1.00/-0.50x10 L -2.00", "tab", section]);
    to(&mut d, path);
    d.keys(&[text, "tab"]);
    let job = d.in_book().job;
    paths
        .iter()
        .map(|p| fields::find(p).unwrap().value(&job).unwrap_or_default())
        .collect()
}

fn to(d: &mut Driver, path: &str) {
    for _ in 0..80 {
        if d.app.states.form().unwrap().field().unwrap().full_path() == path {
            return;
        }
        d.keys(&["tab"]);
    }
    panic!("{path} is not in this section");
}

#[test]
fn every_short_form_of_the_help_does_what_it_says_and_stands_in_the_guide() {
    for row in TYPED {
        for text in row.text.split(", ") {
            let (got, wanted) = match text {
                "t" => day(text, "2026-10-12"),
                "+7" => day(text, "2026-10-19"),
                "3/12/2026" => day(text, "2026-12-03"),
                "-2.25/-0.75x90" => (
                    typed(
                        text,
                        "alt-2",
                        "prescription.left.axis_deg",
                        &[
                            "prescription.left.sphere_d",
                            "prescription.left.cylinder_d",
                            "prescription.left.axis_deg",
                        ],
                    ),
                    vec![json!(-2.25), json!(-0.75), json!(90)],
                ),
                "31/30.5" => (
                    typed(
                        text,
                        "alt-3",
                        "fitting.right.cd_mm",
                        &["fitting.right.cd_mm", "fitting.left.cd_mm"],
                    ),
                    vec![json!(31), json!(30.5)],
                ),
                "21=" => (
                    typed(
                        text,
                        "alt-3",
                        "fitting.left.height_mm",
                        &["fitting.right.height_mm", "fitting.left.height_mm"],
                    ),
                    vec![json!(21), json!(21)],
                ),
                "52-18-140" => (
                    typed(
                        text,
                        "alt-4",
                        "frame.a_mm",
                        &["frame.a_mm", "frame.dbl_mm", "frame.side_mm"],
                    ),
                    vec![json!(52), json!(18), json!(140)],
                ),
                "bif" => (
                    typed(text, "alt-5", "lenses.design", &["lenses.design"]),
                    vec![json!("bifocal")],
                ),
                "r 1.60" => (
                    typed(text, "alt-5", "lenses.material", &["lenses.material"]),
                    vec![json!("resin 1.60")],
                ),
                // The staff of the test are others than the invented practice's Hanne.
                "me" | "han" => (
                    typed(
                        text.replace("han", "ine").as_str(),
                        "alt-3",
                        "fitting.taken_by",
                        &["fitting.taken_by"],
                    ),
                    vec![json!("Ines Calloway")],
                ),
                "prescribed" => (
                    typed(
                        text,
                        "alt-5",
                        "lenses.powers.as",
                        &[
                            "lenses.powers.right.axis_deg",
                            "lenses.powers.left.sphere_d",
                        ],
                    ),
                    vec![json!(10), json!(-2)],
                ),
                other => panic!("{other} of the help is tried by nothing"),
            };
            assert_eq!(got, wanted, "{text}");
            assert!(
                GUIDE.contains(&format!("`{text}`")) || text == "han",
                "the guide does not say {text}"
            );
        }
    }
}

fn day(text: &str, wanted: &str) -> (Vec<Value>, Vec<Value>) {
    let path = "prescription.tested_on";
    (typed(text, "alt-2", path, &[path]), vec![json!(wanted)])
}

/// What stands between backticks, lines of blocks of code among it.
fn code(text: &str) -> Vec<String> {
    let mut out = Vec::new();
    let mut in_block = false;
    let mut prose = String::new();
    for line in text.lines() {
        if line.starts_with("```") {
            in_block = !in_block;
        } else if in_block {
            out.push(line.to_owned());
        } else {
            prose.push_str(line);
            prose.push(' ');
        }
    }
    let spans = prose.split('`').enumerate();
    out.extend(spans.filter(|(i, _)| i % 2 == 1).map(|(_, s)| s.to_owned()));
    out
}

#[test]
fn every_command_and_option_of_the_guide_is_one_and_no_command_is_left_out() {
    let pages = manual().unwrap();
    let page_of = |words: &[&str]| {
        let name = |count: usize| format!("rimbook-{}.1", words[..count].join("-"));
        (1..=words.len().min(2))
            .rev()
            .find_map(|n| pages.iter().find(|(p, _)| *p == name(n)))
    };
    let first = &pages.iter().find(|(p, _)| p == "rimbook.1").unwrap().1;
    let plain = |page: &[u8]| String::from_utf8_lossy(page).replace('\\', "");
    for line in code(GUIDE) {
        let Some(rest) = line.strip_prefix("rimbook ") else {
            continue;
        };
        let words: Vec<&str> = rest.split_whitespace().collect();
        let at = words.iter().position(|w| !w.starts_with("--")).unwrap_or(0);
        // `rimbook --db FILE list` has a value before its command.
        let at = if words[0] == "--db" { 2 } else { at };
        let Some((name, page)) = page_of(&words[at..]) else {
            panic!("`{line}`: there is no such command");
        };
        let known = plain(page) + &plain(first);
        for option in words.iter().filter(|w| w.starts_with("--")) {
            let option = option.split('=').next().unwrap();
            assert!(known.contains(option), "`{line}`: {name} has no {option}");
        }
    }
    let pages_of_docs = [
        GUIDE,
        include_str!("../../docs/recheck.md"),
        include_str!("../../docs/encryption.md"),
        include_str!("../../docs/exchange.md"),
        include_str!("../../docs/formulas.md"),
        include_str!("../../docs/notation.md"),
        include_str!("../../docs/checks.md"),
        include_str!("../../README.md"),
    ];
    let is_named = |command: &str| {
        let spoken = command.replacen('-', " ", 1);
        pages_of_docs.iter().any(|text| {
            text.contains(&format!("rimbook {command}"))
                || text.contains(&format!("rimbook {spoken}"))
        })
    };
    let left: Vec<&str> = pages
        .iter()
        .filter_map(|(p, _)| p.strip_prefix("rimbook-")?.strip_suffix(".1"))
        .filter(|c| !is_named(c))
        .collect();
    assert!(left.is_empty(), "no page names {left:?}");
}

#[test]
fn what_the_guide_calls_a_check_a_setting_or_an_action_is_one() {
    let is_name = |w: &str| {
        w.contains('-')
            && !w.starts_with('-')
            && !w.ends_with('-')
            && w.bytes()
                .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-')
    };
    let all = settings(&Practice::default());
    let mut seen = 0;
    for word in code(GUIDE).iter().filter(|w| is_name(w)) {
        if Key::parse(word).is_ok() || word == "52-18-140" {
            continue;
        }
        seen += 1;
        let is_known = rimbook::testing::judge::gate::CheckId::from_word(word).is_some()
            || all.iter().any(|s| s.key == word);
        assert!(is_known, "`{word}` is no check and no setting");
    }
    assert!(seen >= 8, "{seen}");
    // In italics stand the names of the list of actions that have no key.
    for e in ACTIONS.iter().filter(|e| e.keys.is_empty()) {
        let is_named = GUIDE.contains(&format!("*{}*", e.id));
        assert!(is_named, "the guide does not say where *{}* is", e.id);
    }
}
