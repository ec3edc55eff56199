//! The keys that docs/guide.md names exist, and do what its section is about.

use std::collections::BTreeSet;

use rimbook::testing::tui::action::{ACTIONS, Action};
use rimbook::testing::tui::key::Key;
use rimbook::testing::tui::keymap::Keymap;

const GUIDE: &str = include_str!("../../docs/guide.md");

/// What stands between backticks outside blocks of code.
fn marked(text: &str) -> Vec<String> {
    let mut out = Vec::new();
    let mut in_block = false;
    let mut prose = String::new();
    for line in text.lines() {
        if line.starts_with("```") {
            in_block = !in_block;
        } else if !in_block {
            prose.push_str(line);
            prose.push(' ');
        }
    }
    for (index, part) in prose.split('`').enumerate() {
        if index % 2 == 1 {
            out.push(part.to_owned());
        }
    }
    out
}

fn default_keys() -> BTreeSet<String> {
    ACTIONS
        .iter()
        .flat_map(|e| e.keys.iter())
        .map(|k| Key::parse(k).unwrap().to_string())
        .collect()
}

/// The part of the guide under a heading.
fn section(heading: &str) -> &'static str {
    let (_, rest) = GUIDE
        .split_once(&format!("## {heading}"))
        .unwrap_or_else(|| panic!("no section {heading}"));
    rest.split_once("\n## ").map_or(rest, |(s, _)| s)
}

#[test]
fn every_key_that_the_guide_names_is_a_key_of_some_action() {
    let known = default_keys();
    // Typed as text, not pressed as keys: an entry of today, an answer, marks beside an entry, the
    // mark of a carried value, what is not recorded.
    let text = ["!", "-", "R", "e", "t"];
    let mut named = 0;
    for word in marked(GUIDE) {
        let lower = word.to_lowercase();
        let Ok(key) = Key::parse(&lower) else {
            continue;
        };
        named += 1;
        let is_known = known.contains(&key.to_string())
            || known.contains(&word)
            || text.contains(&word.as_str());
        assert!(is_known, "`{word}` of the guide is no key of any action");
    }
    assert!(named > 30, "the guide names its keys in backticks: {named}");
}

#[test]
fn a_section_names_a_key_of_the_action_it_is_about() {
    for (heading, action) in [
        ("Who is acting", Action::SwitchPerson),
        ("Typing less", Action::NextMarked),
        ("Choose material and base curve", Action::Choices),
        ("Look at a job as pictures", Action::Pictures),
        ("Go through the parcel", Action::Parcel),
        ("Go through the parcel", Action::Verdict),
        ("Go through the parcel", Action::SendBack),
        ("Hand over", Action::Adjusted),
        ("Hand over", Action::Yes),
        ("Tell the wearer", Action::Told),
        ("Tell the wearer", Action::Waiting),
        ("\"I can't get on with them\"", Action::Visit),
        ("\"I can't get on with them\"", Action::Remake),
        ("Find a past job", Action::ReadAloud),
        ("Find a past job", Action::CopyCard),
        ("Begin a job from an earlier one", Action::NewFrom),
        ("Repair or adjust a collected pair", Action::Repair),
        ("Work something out without a job", Action::Workbench),
        ("See how the work goes", Action::Figures),
        ("Review and erase old records", Action::Retention),
        ("Keys at a glance", Action::Help),
        ("Keys at a glance", Action::Palette),
    ] {
        let words = marked(section(heading));
        let keys = action.entry().keys;
        assert!(
            keys.iter()
                .any(|k| words.iter().any(|w| w.eq_ignore_ascii_case(k))),
            "{heading}: names none of {keys:?}, the keys of {}",
            action.entry().id
        );
    }
}

#[test]
fn the_key_file_that_the_guide_prints_is_one() {
    let (_, from) = GUIDE.split_once("```toml\n").expect("a key file");
    let (file, _) = from.split_once("```").expect("its end");
    let keys = Keymap::with_file(file).expect("it is taken");
    assert_eq!(keys.shown(Action::Told).as_deref(), Some("T"));
    assert_eq!(keys.keys_of(Action::Section6).len(), 2);
}
