//! What a practice decided: who works there and may sign, and how long records are kept.

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

mod copies_without_secrets;
mod old_thresholds;
mod registered;
mod retention_review;
mod retention_rule;
mod sign_in;
mod signed_names;
mod switched_off;
