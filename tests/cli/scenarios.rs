//! Every scenario played through the real program, as its evaluator says.
//!
//! `tests/data/scenarios.json`: expectations worked out by an independent evaluator; people, frames
//! and laboratories are invented. What each step expects is said in the file.

use std::collections::BTreeSet;

use crate::cli::{Practice, scenarios};
use serde_json::{Value, json};

/// The practice and the jobs of a scenario, nothing played yet.
pub(crate) fn begun(scenario: &Value) -> (Practice, Vec<String>) {
    let practice = Practice::on(scenario["today"].as_str().unwrap());
    if scenario["book"] == "demo" {
        let book = practice.place.path().join("book.db");
        let into = ["demo", "--into", book.to_str().unwrap(), "--no-open"];
        assert_eq!(practice.run(&into).status, 0);
        let list = practice.does(&["list"]);
        let held = |job: &&Value| words(&job["held"]).any(|id| scenario["find"] == id);
        let job = list.as_array().unwrap().iter().find(held).unwrap();
        let number = job["number"].as_str().unwrap().to_owned();
        return (practice, vec![number]);
    }
    for member in scenario["staff"].as_array().unwrap() {
        practice.hires(member);
    }
    let numbers = practice.imports_all(&scenario["job"]);
    (practice, numbers)
}

/// The ids of findings as the scenarios name them, each also with its eye: of open ones the id, of a
/// note `note:ID`, of a settled one `settled:ID`.
fn named(findings: &Value) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    for f in findings.as_array().unwrap() {
        let prefix = match (&f["settled"], f["severity"].as_str()) {
            (Value::Null, Some("note")) => "note:",
            (Value::Null, _) => "",
            _ => "settled:",
        };
        let id = f["check"].as_str().unwrap();
        let eye = f["eye"].as_str().unwrap_or("None");
        names.insert(format!("{prefix}{id}"));
        names.insert(format!("{prefix}{id}@{eye}"));
    }
    names
}

fn words(list: &Value) -> impl Iterator<Item = &str> {
    list.as_array()
        .into_iter()
        .flatten()
        .filter_map(Value::as_str)
}

fn is_open(finding: &Value) -> bool {
    finding["severity"] != "note" && finding["settled"].is_null()
}

fn plays_check(practice: &Practice, number: &str, step: &Value, place: &str) {
    let expect = &step["expect"];
    let answer = practice.does(&["check", number, "--to", step["to"].as_str().unwrap()]);
    assert_eq!(answer["number"], number);
    assert_eq!(answer["to"], step["to"]);
    let found = named(&answer["findings"]);
    for id in words(&expect["holds"]) {
        assert!(found.contains(id), "{place}: {id} should hold: {found:?}");
    }
    for id in words(&expect["absent"]) {
        assert!(!found.contains(id), "{place}: {id} should be absent");
    }
    let open: Vec<&Value> = answer["findings"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|f| is_open(f))
        .collect();
    assert!(
        expect["none"] != true || open.is_empty(),
        "{place}: {found:?}"
    );
    for key in ["severity", "accept"] {
        for (id, word) in expect[key].as_object().into_iter().flatten() {
            for f in open.iter().filter(|f| f["check"] == *id) {
                assert_eq!(&f[key], word, "{place}: {id}");
            }
        }
    }
    for (id, said) in expect["values"].as_object().into_iter().flatten() {
        let says = |f: &Value| {
            let text = format!("{} {}", f["message"], f["values"]);
            words(said).all(|word| text.contains(word))
        };
        let of_check = open.iter().filter(|f| f["check"] == *id);
        assert!(of_check.clone().any(|f| says(f)), "{place}: {id} {said}");
    }
}

fn plays_repair(practice: &Practice, number: &str, step: &Value, place: &str) {
    let kept = || {
        let shown = practice.does(&["show", number]);
        let repairs = shown["aftercare"]["repairs"].as_array();
        repairs.map_or(0, Vec::len)
    };
    let before = kept();
    let mut arguments = vec!["--json", "repair", number];
    for (key, option) in [
        ("kind", "--kind"),
        ("as", "--as"),
        ("supervised_by", "--supervised-by"),
        ("reason", "--reason"),
    ] {
        if let Some(word) = step[key].as_str() {
            arguments.extend([option, word]);
        }
    }
    let set: Vec<String> = (step["set"].as_object().into_iter().flatten())
        .map(|(path, value)| format!("{path}={value}"))
        .collect();
    for value in &set {
        arguments.extend(["--set", value]);
    }
    let said = practice.run(&arguments);
    let (answer, expect) = (said.json(), &step["expect"]);
    assert_eq!(answer["kept"], expect["kept"], "{place}: {}", said.out);
    let is_kept = expect["kept"] == true;
    assert_eq!(said.status, if is_kept { 0 } else { 3 }, "{place}");
    assert_eq!(kept(), before + usize::from(is_kept), "{place}");
    let found = named(&answer["findings"]);
    for id in words(&expect["holds"]) {
        assert!(found.contains(id), "{place}: {id} should hold: {found:?}");
    }
    for id in words(&expect["absent"]) {
        assert!(!found.contains(id), "{place}: {id} should be absent");
    }
}

fn play(practice: &Practice, number: &str, step: &Value, place: &str) {
    let text = |key: &str| step[key].as_str().unwrap();
    let expect = &step["expect"];
    match text("do") {
        "check" => plays_check(practice, number, step, place),
        "repair" => plays_repair(practice, number, step, place),
        "record" => {
            let said = practice.records(number, text("section"), &step["value"]);
            assert_eq!(said.status, 0, "{place}: {}", said.out);
            assert_eq!(said.json()["ok"], true, "{place}");
        }
        "advance" => {
            let moves = ["--to", text("to"), "--as", text("as")];
            let said = practice.run(&[&["--json", "advance", number], &moves[..]].concat());
            let answer = said.json();
            assert_eq!(answer["moved"], expect["moved"], "{place}: {}", said.out);
            assert_eq!(answer["stage"], expect["stage"], "{place}");
            let status = if expect["moved"] == true { 0 } else { 3 };
            assert_eq!(said.status, status, "{place}");
        }
        "accept" => {
            let mut arguments = vec!["--json", "accept", number, text("check")];
            arguments.extend(["--as", text("as"), "--reason", text("reason")]);
            if let Some(eye) = step["eye"].as_str() {
                arguments.extend(["--eye", eye]);
            }
            let said = practice.run(&arguments);
            assert_eq!(said.json()["ok"], expect["ok"], "{place}: {}", said.out);
            let status = if expect["ok"] == true { 0 } else { 3 };
            assert_eq!(said.status, status, "{place}");
        }
        "send_back" => {
            let why = ["--as", text("as"), "--reason", text("reason")];
            let answer = practice.does(&[&["send-back", number], &why[..]].concat());
            assert_eq!(answer["stage"], expect["stage"], "{place}");
        }
        "ask" => {
            let what = [
                "--of",
                text("of"),
                "--text",
                text("text"),
                "--as",
                text("as"),
            ];
            let answer = practice.does(&[&["ask", number], &what[..]].concat());
            assert_eq!(answer["ok"], true, "{place}");
        }
        "answer" => {
            let what = ["--text", text("text"), "--as", text("as")];
            let answer = practice.does(&[&["answer", number], &what[..]].concat());
            assert_eq!(answer["ok"], true, "{place}");
        }
        "staff" => {
            let is_listed = || {
                let list = practice.does(&["staff", "list"]).to_string();
                list.contains(step["staff"]["name"].as_str().unwrap())
            };
            let is_added = practice.adds(&step["staff"]).status == 0;
            assert_eq!(json!(is_added), expect["ok"], "{place}");
            assert_eq!(json!(is_listed()), expect["ok"], "{place}");
        }
        other => panic!("{place}: unknown step {other}"),
    }
}

#[test]
fn every_scenario_plays_through_the_program_as_its_evaluator_says() {
    for scenario in &scenarios() {
        let (practice, numbers) = begun(scenario);
        for (i, step) in scenario["steps"].as_array().unwrap().iter().enumerate() {
            let job = step["job"].as_u64().unwrap_or_default();
            let number = &numbers[usize::try_from(job).unwrap()];
            let place = format!("{} step {i}", scenario["id"]);
            play(&practice, number, step, &place);
        }
    }
}
