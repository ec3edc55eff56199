//! The gate as scenarios: invented jobs played step by step on the pure core, no storage in between.
//!
//! `tests/data/scenarios.json`: expectations worked out by an independent evaluator; people, frames
//! and laboratories are invented (see `tests/data/SOURCES.md`).

use chrono::NaiveDate;
use rimbook::testing::job::{
    Gate, Job, NumberRule, QuestionTo, Readings, Section, StaffMember, StaffRoll, Stage, read_jobs,
};
use rimbook::testing::judge::gate::{
    Acceptance, Finding, Passed, Question, Severity, Surroundings, findings, lets_through,
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
    questions: Vec<Question>,
}

impl Played {
    fn at(&self, gate: Gate) -> Vec<Finding> {
        let around = Surroundings {
            sign_in: false,
            today: self.today,
            staff: &self.staff,
            practice: &self.practice,
            others: &[],
            questions: &self.questions,
        };
        findings(gate, &self.job, around, &self.acceptances, &self.passed)
    }

    fn gate(step: &Value) -> Gate {
        Gate::from_word(step["to"].as_str().unwrap()).unwrap()
    }

    fn check(&self, place: &str, step: &Value) {
        Self::holds_as_expected(place, &self.at(Self::gate(step)), &step["expect"]);
    }

    /// Looks whether findings are those that a step expects, by the names that the scenarios give them.
    fn holds_as_expected(place: &str, found: &[Finding], expect: &Value) {
        let of = |wanted: &str| -> Vec<&Finding> {
            let (kind, name) = wanted.split_once(':').unwrap_or(("open", wanted));
            let (id, eye) = match name.split_once('@') {
                Some((id, eye)) => (id, Some(eye)),
                None => (name, None),
            };
            let is = |f: &&Finding| match kind {
                "open" => f.is_open(),
                "note" => f.settled.is_none() && f.severity == Severity::Note,
                _ => f.settled.is_some(),
            };
            found
                .iter()
                .filter(is)
                .filter(|f| f.check == id && (eye.is_none() || f.eye.word() == eye))
                .collect()
        };
        let ids = |key: &str| expect[key].as_array().cloned().unwrap_or_default();
        for id in ids("holds") {
            let id = id.as_str().unwrap();
            assert!(!of(id).is_empty(), "{place}: {id} should hold: {found:?}");
        }
        for id in ids("absent") {
            let id = id.as_str().unwrap();
            assert!(
                of(id).is_empty(),
                "{place}: {id} should be absent: {:?}",
                of(id)
            );
        }
        if expect["none"] == true {
            assert!(lets_through(found), "{place}: {found:?}");
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
            "ask" => self.questions.push(Question {
                of: QuestionTo::from_word(step["of"].as_str().unwrap()).unwrap(),
                text: step["text"].as_str().unwrap().to_owned(),
                by: step["as"].as_str().unwrap().to_owned(),
                on: self.today,
            }),
            "answer" => drop(self.questions.pop().expect(place)),
            // What is kept in a book is played there.
            "repair" | "staff" => {}
            other => panic!("{place}: unknown step {other}"),
        }
    }
}

#[test]
fn every_scenario_holds_and_moves_as_its_evaluator_says() {
    let all: Value = serde_json::from_str(include_str!("../data/scenarios.json")).unwrap();
    let mut wrong = Vec::new();
    // What needs a book, another job or the staff list to change is played there.
    let needs_a_book = |scenario: &Value| {
        let steps = scenario["steps"].as_array().unwrap();
        scenario["job"].is_array() || steps.iter().any(|step| step["do"] == "staff")
    };
    let all = all["scenarios"].as_array().unwrap();
    for scenario in all.iter().filter(|s| !needs_a_book(s)) {
        let id = scenario["id"].as_str().unwrap().to_owned();
        let played = std::panic::catch_unwind(|| {
            let mut played = Played {
                job: read_jobs(&scenario["job"].to_string()).unwrap().remove(0),
                today: scenario["today"].as_str().unwrap().parse().unwrap(),
                staff: StaffRoll(serde_json::from_value(scenario["staff"].clone()).unwrap()),
                practice: Practice::default(),
                acceptances: Vec::new(),
                passed: Vec::new(),
                questions: Vec::new(),
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
