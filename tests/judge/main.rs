//! What is true of a job, and what holds it: derived numbers, rules, checks.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    unreachable_pub,
    reason = "tests"
)]

#[path = "../support/common.rs"]
mod common;
#[path = "../support/driver.rs"]
mod driver;

mod acceptances;
mod acuity;
mod allergies;
mod carried_book;
mod carried_checks;
mod carried_remake;
mod carrying;
mod check_ids;
mod check_texts;
mod checks_page;
mod gate_checks;
mod gate_models;
mod gate_rows;
mod gate_scenarios;
mod handed_over;
mod imbalance;
mod impact_marks;
mod making;
mod near_pd;
mod old_words;
mod pairs;
mod pairs_drawn;
mod pairs_played;
mod pd_range;
mod people;
mod plausibility;
mod remade;
mod remake_fields;
mod remakes;
mod remedies;
mod repairs;
mod sound_pair;
mod tints;
mod who_compensates;
mod worked_accuracy;
