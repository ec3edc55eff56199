//! What is said of a job as plain data: cards, comparisons, figures.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    unreachable_pub,
    reason = "tests"
)]

#[path = "../support/driver.rs"]
mod driver;
#[path = "../support/figures_book.rs"]
mod figures_book;

mod aloud;
mod fields_seen;
mod figures;
mod figures_rules;
mod fitting_card;
mod order_facts;
mod recheck_causes;
mod recheck_compare;
mod recheck_fields;
mod recheck_laws;
mod recheck_pair;
mod repaired_values;
mod special_lenses;
mod worked_beside;
