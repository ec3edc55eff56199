//! Every scenario played through the desk, the book closed and opened again after each step.

use std::path::PathBuf;

use rimbook::testing::book::clock::Clock;
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::fields::set_repair_value;
use rimbook::testing::job::{Gate, QuestionTo, Repair, RepairKind, Section, StaffMember};
use rimbook::testing::judge::gate::{Finding, Severity};
use serde_json::Value;

pub fn scenarios() -> Vec<Value> {
    let all: Value = serde_json::from_str(include_str!("../data/scenarios.json")).unwrap();
    all["scenarios"].as_array().unwrap().clone()
}

pub fn clock_of(scenario: &Value) -> Clock {
    Clock {
        fixed: Some(scenario["today"].as_str().unwrap().parse().unwrap()),
    }
}

fn desk_with_all(scenario: &Value) -> (tempfile::TempDir, PathBuf, Desk, Vec<String>) {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("inner").join("book.db");
    let mut desk = Desk::create(&path, clock_of(scenario)).unwrap();
    for member in scenario["staff"].as_array().unwrap() {
        desk.add_staff(serde_json::from_value::<StaffMember>(member.clone()).unwrap())
            .unwrap();
    }
    let imported = desk.import(&scenario["job"].to_string(), None).unwrap();
    (dir, path, desk, imported.numbers)
}

pub fn desk_for(scenario: &Value) -> (tempfile::TempDir, PathBuf, Desk, String) {
    let (dir, path, desk, mut numbers) = desk_with_all(scenario);
    (dir, path, desk, numbers.remove(0))
}

fn text<'a>(step: &'a Value, key: &str) -> &'a str {
    step[key].as_str().unwrap()
}

/// Looks whether findings are those that a step expects, by the names that the scenarios give them.
fn holds_as_expected(found: &[Finding], expect: &Value) {
    let is_found = |wanted: &str| {
        let (kind, name) = match wanted.split_once(':') {
            Some((kind, name)) => (kind, name),
            None => ("open", wanted),
        };
        let (id, eye) = name
            .split_once('@')
            .map_or((name, None), |(i, e)| (i, Some(e)));
        found.iter().any(|f| {
            let is = match kind {
                "open" => f.is_open(),
                "note" => f.settled.is_none() && f.severity == Severity::Note,
                _ => f.settled.is_some(),
            };
            is && f.check == id && (eye.is_none() || f.eye.word() == eye)
        })
    };
    let ids = |key: &str| expect[key].as_array().cloned().unwrap_or_default();
    for id in ids("holds") {
        assert!(is_found(id.as_str().unwrap()), "{id} should hold");
    }
    for id in ids("absent") {
        assert!(!is_found(id.as_str().unwrap()), "{id} should be absent");
    }
}

fn play(desk: &mut Desk, number: &str, step: &Value) {
    let expect = &step["expect"];
    match text(step, "do") {
        "check" => {
            let open = desk.load(number).unwrap();
            let found = desk
                .findings(&open, Gate::from_word(text(step, "to")).unwrap())
                .unwrap();
            holds_as_expected(&found, expect);
        }
        "record" => {
            let section = Section::from_word(text(step, "section")).unwrap();
            desk.record(number, section, &step["value"], None, None)
                .unwrap();
        }
        "accept" => {
            let done = desk
                .accept(
                    number,
                    text(step, "check"),
                    step["eye"].as_str(),
                    text(step, "as"),
                    text(step, "reason"),
                )
                .unwrap();
            assert_eq!(Some(done.ok), expect["ok"].as_bool(), "{}", done.message);
        }
        "advance" => {
            let gate = Gate::from_word(text(step, "to")).unwrap();
            let done = desk.advance(number, gate, text(step, "as"), None).unwrap();
            assert_eq!(Some(done.moved), expect["moved"].as_bool());
            assert_eq!(expect["stage"], done.stage.word());
        }
        "send_back" => {
            let open = desk
                .send_back(number, text(step, "as"), text(step, "reason"))
                .unwrap();
            assert_eq!(expect["stage"], open.job.stage().word());
        }
        "ask" => {
            let of = QuestionTo::from_word(text(step, "of")).unwrap();
            desk.ask(number, text(step, "as"), of, text(step, "text"))
                .unwrap();
        }
        "answer" => {
            desk.answer(number, text(step, "as"), None, text(step, "text"))
                .unwrap();
        }
        "repair" => {
            let mut repair = Repair {
                kind: RepairKind::from_word(text(step, "kind")),
                supervised_by: step["supervised_by"].as_str().map(str::to_owned),
                reason: step["reason"].as_str().map(str::to_owned),
                ..Repair::default()
            };
            for (path, value) in step["set"].as_object().into_iter().flatten() {
                let set = set_repair_value(&repair, path, &value.to_string(), desk.today());
                repair = set.unwrap();
            }
            let done = desk.add_repair(number, text(step, "as"), repair).unwrap();
            assert_eq!(Some(done.kept.is_some()), expect["kept"].as_bool());
            holds_as_expected(&done.findings, expect);
        }
        "staff" => {
            let member = serde_json::from_value(step["staff"].clone()).unwrap();
            let added = desk.add_staff(member).is_ok();
            assert_eq!(Some(added), expect["ok"].as_bool());
        }
        other => panic!("unknown step {other}"),
    }
}

#[test]
fn every_scenario_goes_through_the_book_and_survives_reopening_at_each_step() {
    // One is played on the invented practice: by the command line.
    for scenario in scenarios().iter().filter(|s| s["book"] != "demo") {
        let (_dir, path, mut desk, numbers) = desk_with_all(scenario);
        for step in scenario["steps"].as_array().unwrap() {
            let job = step["job"].as_u64().unwrap_or_default();
            let number = &numbers[usize::try_from(job).unwrap()];
            play(&mut desk, number, step);
            let before = desk.load(number).unwrap();
            drop(desk);
            desk = Desk::open(&path, clock_of(scenario)).unwrap();
            assert_eq!(desk.load(number).unwrap(), before, "{}", scenario["id"]);
        }
    }
}
