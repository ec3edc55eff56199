//! The gate as scenarios: invented jobs played step by step on the pure core, no storage in between.
//!
//! `tests/data/scenarios.json`: expectations worked out by an independent evaluator; people, frames
//! and laboratories are invented (see `tests/data/SOURCES.md`).

use chrono::NaiveDate;
use rimbook::testing::job::{
    Gate, Job, NumberRule, Readings, Section, StaffMember, StaffRoll, Stage, read_jobs,
};
use rimbook::testing::judge::gate::{
    Acceptance, Finding, Passed, Surroundings, findings, lets_through,
};
use rimbook::testing::practice::Practice;
use serde_json::Value;

struct Played {
    job: Job,
    today: NaiveDate,
    staff: StaffRoll,
    practice: Practice,
    acceptances: Vec<Acceptance>,
    passed: Vec<Passed>,
}

impl Played {
    fn at(&self, gate: Gate) -> Vec<Finding> {
        let around = Surroundings {
            today: self.today,
            staff: &self.staff,
            practice: &self.practice,
            others: &[],
            question: None,
        };
        findings(gate, &self.job, around, &self.acceptances, &self.passed)
    }

    fn gate(step: &Value) -> Gate {
        Gate::from_word(step["to"].as_str().unwrap()).unwrap()
    }

    fn check(&self, place: &str, step: &Value) {
        let found = self.at(Self::gate(step));
        let open: Vec<(&str, Option<&str>)> = found
            .iter()
            .filter(|f| f.is_open())
            .map(|f| (f.check.word(), f.eye.word()))
            .collect();
        let is_open = |wanted: &str| match wanted.split_once('@') {
            Some((id, eye)) => open.contains(&(id, Some(eye))),
            None => open.iter().any(|(id, _)| *id == wanted),
        };
        for id in step["expect"]["holds"].as_array().unwrap() {
            let id = id.as_str().unwrap();
            assert!(is_open(id), "{place}: {id} should hold; open: {open:?}");
        }
        for id in step["expect"]["absent"].as_array().unwrap() {
            let id = id.as_str().unwrap();
            let why: Vec<_> = found
                .iter()
                .filter(|f| f.check == id)
                .map(|f| &f.message)
                .collect();
            assert!(!is_open(id), "{place}: {id} should be absent: {why:?}");
        }
    }

    fn accept(&mut self, place: &str, step: &Value) {
        let by: StaffMember = self
            .staff
            .find(step["as"].as_str().unwrap())
            .unwrap()
            .clone();
        let gate = self.job.stage().next_gate().unwrap();
        let given: Vec<Acceptance> = self
            .at(gate)
            .iter()
            .filter(|f| f.is_open() && f.check.word() == step["check"])
            .filter(|f| step["eye"].is_null() || f.eye.word() == step["eye"].as_str())
            .filter_map(|f| {
                Acceptance::of(
                    f,
                    &by,
                    NumberRule::Required,
                    step["reason"].as_str().unwrap(),
                    self.today,
                )
                .ok()
            })
            .collect();
        assert_eq!(
            !given.is_empty(),
            step["expect"]["ok"].as_bool().unwrap(),
            "{place}"
        );
        self.acceptances.extend(given);
    }

    fn advance(&mut self, place: &str, step: &Value) {
        let gate = Self::gate(step);
        let found = self.at(gate);
        let moved = self.job.stage() == gate.from_stage() && lets_through(&found);
        if moved {
            self.passed.push(Passed {
                gate,
                job: self.job.clone(),
            });
            self.job.stage = Some(gate.to_stage());
        }
        let open: Vec<_> = found
            .iter()
            .filter(|f| f.is_open())
            .map(|f| &f.message)
            .collect();
        assert_eq!(
            moved,
            step["expect"]["moved"].as_bool().unwrap(),
            "{place}: {open:?}"
        );
        assert_eq!(self.job.stage().word(), step["expect"]["stage"], "{place}");
    }

    fn step(&mut self, place: &str, step: &Value) {
        match step["do"].as_str().unwrap() {
            "check" => self.check(place, step),
            "accept" => self.accept(place, step),
            "advance" => self.advance(place, step),
            "record" => {
                let section = Section::from_word(step["section"].as_str().unwrap()).unwrap();
                self.job.record(section, &step["value"]).expect(place);
            }
            "send_back" => {
                self.job.readings = Readings::default();
                self.job.stage = Some(Stage::Ordered);
                self.passed.retain(|p| p.gate == Gate::Ordered);
            }
            other => panic!("{place}: unknown step {other}"),
        }
    }
}

#[test]
fn every_scenario_holds_and_moves_as_its_evaluator_says() {
    let all: Value = serde_json::from_str(include_str!("../data/scenarios.json")).unwrap();
    let mut wrong = Vec::new();
    for scenario in all["scenarios"].as_array().unwrap() {
        let id = scenario["id"].as_str().unwrap().to_owned();
        let played = std::panic::catch_unwind(|| {
            let mut played = Played {
                job: read_jobs(&scenario["job"].to_string()).unwrap().remove(0),
                today: scenario["today"].as_str().unwrap().parse().unwrap(),
                staff: StaffRoll(serde_json::from_value(scenario["staff"].clone()).unwrap()),
                practice: Practice::default(),
                acceptances: Vec::new(),
                passed: Vec::new(),
            };
            for (i, step) in scenario["steps"].as_array().unwrap().iter().enumerate() {
                played.step(&format!("{id} step {}", i + 1), step);
            }
        });
        if played.is_err() {
            wrong.push(id);
        }
    }
    assert!(wrong.is_empty(), "{wrong:?}");
}
