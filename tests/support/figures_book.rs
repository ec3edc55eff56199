//! A small book that is built deed by deed on fixed days, so that every figure can be counted by hand.
#![allow(
    dead_code,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    reason = "each test file uses its part"
)]

use std::path::PathBuf;

use chrono::NaiveDate;
use rimbook::testing::book::clock::Clock;
use rimbook::testing::book::desk::Desk;
use rimbook::testing::job::{Gate, Section, StaffMember};
use serde_json::{Value, json};

pub const OPTICIAN: &str = "Ines Calloway";
pub const GLEN: &str = "Glenside Surfacing (invented)";
pub const HARBOUR: &str = "Harbour Bench (invented)";

pub fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

pub struct Book {
    pub dir: tempfile::TempDir,
    pub path: PathBuf,
    scenario: Value,
    begun: u32,
}

impl Book {
    pub fn begin() -> Self {
        let all: Value = serde_json::from_str(include_str!("../data/scenarios.json")).unwrap();
        let scenario = all["scenarios"][0].clone();
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("inner").join("book.db");
        let clock = Clock {
            fixed: Some(day("2026-10-01")),
        };
        let mut desk = Desk::create(&path, clock).unwrap();
        for member in scenario["staff"].as_array().unwrap() {
            desk.add_staff(serde_json::from_value::<StaffMember>(member.clone()).unwrap())
                .unwrap();
        }
        Self {
            dir,
            path,
            scenario,
            begun: 0,
        }
    }

    pub fn on(&self, on: &str) -> Desk {
        let clock = Clock {
            fixed: Some(day(on)),
        };
        Desk::open(&self.path, clock).unwrap()
    }

    /// A job that has nothing to hold it, changed by RFC 7396.
    pub fn job(&mut self, on: &str, change: &Value) -> String {
        self.begun += 1;
        let mut job = self.scenario["job"].clone();
        // A wearer of their own: nothing is ordered twice.
        job["wearer"]["name"] = json!(format!("Wearer {}", self.begun));
        job["order"] = json!({});
        // The days of the orders differ: nothing is promised.
        job["promised_on"] = json!(null);
        json_patch::merge(&mut job, change);
        let text = job.to_string();
        let mut given = self.on(on).import(&text, Some(OPTICIAN)).unwrap();
        given.numbers.remove(0)
    }

    pub fn order(&self, on: &str, number: &str, laboratory: &str, due_on: &str) {
        let mut desk = self.on(on);
        let order = json!({"laboratory": laboratory, "due_on": due_on});
        desk.record(number, Section::Order, &order, None, Some(OPTICIAN))
            .unwrap();
        self.through(on, number, Gate::Ordered);
    }

    fn through(&self, on: &str, number: &str, gate: Gate) {
        let done = self.on(on).advance(number, gate, OPTICIAN, None).unwrap();
        let open: Vec<_> = done.findings.iter().filter(|f| f.is_open()).collect();
        assert!(done.moved, "{number} to {gate}: {open:?}");
    }

    fn step(&self, section: &str) -> Value {
        let steps = self.scenario["steps"].as_array().unwrap();
        steps
            .iter()
            .find(|s| s["section"] == section)
            .map(|s| s["value"].clone())
            .unwrap()
    }

    /// Reads the pair; a wrong one has half a dioptre too much.
    pub fn read(&self, on: &str, number: &str, is_wrong: bool) {
        let mut readings = self.step("readings");
        readings["taken_on"] = json!(on);
        if is_wrong {
            readings["right"]["sphere_d"] = json!(-1.0);
        }
        self.on(on)
            .record(number, Section::Readings, &readings, None, Some(OPTICIAN))
            .unwrap();
    }

    pub fn verify(&self, on: &str, number: &str) {
        self.read(on, number, false);
        self.through(on, number, Gate::Verified);
    }

    pub fn send_back(&self, on: &str, number: &str) {
        self.on(on)
            .send_back(number, OPTICIAN, "written for Wearer Nobody")
            .unwrap();
    }

    pub fn collect(&self, on: &str, number: &str) {
        let mut handover = self.step("handover");
        handover["given_on"] = json!(on);
        self.on(on)
            .record(number, Section::Handover, &handover, None, Some(OPTICIAN))
            .unwrap();
        self.through(on, number, Gate::Collected);
    }

    pub fn recheck(&self, on: &str, number: &str) -> String {
        self.on(on).recheck(number, OPTICIAN).unwrap().number
    }

    /// November 2026 of a small practice, seen on 2 December.
    pub fn november() -> Self {
        let mut b = Self::begin();
        let a = b.job("2026-11-02", &json!({}));
        b.order("2026-11-03", &a, GLEN, "2026-11-10");
        b.verify("2026-11-09", &a);
        b.collect("2026-11-12", &a);
        // Came a day late and wrong; went back; came right in its second round.
        let late = b.job("2026-11-04", &json!({}));
        b.order("2026-11-04", &late, GLEN, "2026-11-11");
        b.read("2026-11-12", &late, true);
        b.send_back("2026-11-13", &late);
        b.on("2026-11-13")
            .record(
                &late,
                Section::Order,
                &json!({"due_on": "2026-11-20"}),
                None,
                Some(OPTICIAN),
            )
            .unwrap();
        b.verify("2026-11-18", &late);
        b.collect("2026-11-20", &late);
        // On the edges: ordered before the month, verified on its first day, collected on its last.
        let edge = b.job("2026-10-28", &json!({}));
        b.order("2026-10-30", &edge, HARBOUR, "2026-11-06");
        b.verify("2026-11-01", &edge);
        b.collect("2026-11-30", &edge);
        // Ordered in the month, verified on the first day after it.
        let next = b.job("2026-11-05", &json!({}));
        b.order("2026-11-05", &next, HARBOUR, "2026-11-12");
        b.verify("2026-12-01", &next);
        // Verified, then sent back after all, and verified again.
        let twice = b.job("2026-11-06", &json!({}));
        b.order("2026-11-06", &twice, HARBOUR, "2026-11-13");
        b.verify("2026-11-10", &twice);
        b.send_back("2026-11-11", &twice);
        b.verify("2026-11-16", &twice);
        // From before the book, and never worked on.
        let past = b.job(
            "2026-11-07",
            &json!({"past": true, "stage": "collected", "number": "77"}),
        );
        b.job("2026-11-07", &json!({}));
        // Measured twice, the readings too far apart: accepted.
        let apart = b.job(
            "2026-11-07",
            &json!({"fitting": {"second_reading": {"right": {"cd_mm": 33.0}, "left": {"cd_mm": 31.0}}}}),
        );
        let accepted = b
            .on("2026-11-07")
            .accept(
                &apart,
                "pd-repeat",
                None,
                OPTICIAN,
                "the second was read askew",
            )
            .unwrap();
        assert!(accepted.ok, "{}", accepted.message);
        b.order("2026-11-07", &apart, GLEN, "2026-12-30");
        let overdue = b.job("2026-11-20", &json!({}));
        b.order("2026-11-20", &overdue, GLEN, "2026-11-27");
        let due = b.job("2026-11-24", &json!({}));
        b.order("2026-11-27", &due, GLEN, "2026-12-10");
        // Two come back: one from before the book, one that is made again.
        b.recheck("2026-11-25", &past);
        let again = b.recheck("2026-11-26", &a);
        b.on("2026-11-26")
            .record(
                &again,
                Section::Visit,
                &json!({"cause": "frame fit", "outcome": "remade", "at_cost_of": "practice"}),
                None,
                Some(OPTICIAN),
            )
            .unwrap();
        b
    }
}
