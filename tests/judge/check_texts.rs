//! What the catalogue says of a check is what the check does with the practice's own thresholds.

use std::process::{Command, Stdio};

use rimbook::testing::judge::gate::catalogue::{CHECKS, markdown};
use rimbook::testing::practice::template::named;
use rimbook::testing::practice::{Threshold, Thresholds};

/// Numbers that are no threshold: parts of a standard, of a word or of a law of notation.
const CONSTANTS: &[(&str, &[&str])] = &[
    ("rx-form", &["1", "180"]),
    ("face-form-range", &["0"]),
    ("acuity-worse", &["0.1"]),
    ("segment-tilt", &["2"]),
    ("centre-thickness", &["0.3"]),
    ("base-curve", &["0.75"]),
    ("material-rim", &["1.50"]),
    ("tint-driving", &["4"]),
];

/// Every threshold at a value that no default and no constant has.
fn all_set() -> Thresholds {
    let mut own = Thresholds::default();
    for (threshold, n) in Threshold::ALL.iter().zip(0_u16..) {
        own.set(*threshold, f64::from(1000 + n) + 0.5);
    }
    own
}

fn numbers(text: &str) -> Vec<String> {
    text.split(|c: char| !c.is_ascii_digit() && c != '.')
        .map(|n| n.trim_matches('.').to_owned())
        .filter(|n| !n.is_empty())
        .collect()
}

#[test]
fn no_text_of_a_check_shows_a_default_where_the_practice_has_set_its_own() {
    let own = all_set();
    for check in CHECKS {
        let text = check.holds_when(&own);
        assert!(!text.contains(['{', '}']), "{}: {text}", check.id);
        let id = check.id.to_string();
        let constants = CONSTANTS.iter().find(|(of, _)| *of == id);
        for number in numbers(&text) {
            let is_own = number.parse::<f64>().unwrap() >= 1000.0;
            let is_constant = constants.is_some_and(|(_, all)| all.contains(&number.as_str()));
            assert!(is_own || is_constant, "{id}: {number} in {text}");
        }
        for word in ["two lines", "three", "four"] {
            assert!(!text.contains(word), "{id}: {text}");
        }
        let is_threshold = named(check.holds_when).next().is_some();
        assert_eq!(
            check.source(&own).starts_with("set by the practice; "),
            is_threshold,
            "{id}"
        );
        assert_eq!(check.source(&Thresholds::default()), check.source, "{id}");
    }
    assert!(markdown(&own).contains("tested over 1003.5 months ago"));
}

#[test]
fn the_command_prints_the_thresholds_of_the_book() {
    let place = tempfile::tempdir().unwrap();
    let run = |words: &[&str]| {
        let said = Command::new(env!("CARGO_BIN_EXE_rimbook"))
            .args(words)
            .env("RIMBOOK_DB", place.path().join("book.db"))
            .env("HOME", place.path())
            .stdin(Stdio::null())
            .output()
            .unwrap();
        let err = String::from_utf8(said.stderr).unwrap();
        assert!(said.status.success(), "{words:?}: {err}");
        String::from_utf8(said.stdout).unwrap()
    };
    assert!(run(&["checks"]).contains("strength 5.00 D or more and no tested"));
    let who = "Ines Calloway";
    run(&[
        "staff",
        "add",
        "--name",
        who,
        "--role",
        "dispensing optician",
        "--registration",
        "R2041",
    ]);
    run(&["practice", "set", "strong-pair", "7", "--as", who]);
    for words in [
        &["checks"][..],
        &["checks", "--markdown"],
        &["checks", "--json"],
    ] {
        let said = run(words);
        assert!(
            said.contains("strength 7.00 D or more and no tested"),
            "{words:?}"
        );
        assert!(!said.contains("strength 5.00 D"), "{words:?}");
    }
    assert!(run(&["checks", "--json"]).contains("set by the practice; otherwise"));
}
