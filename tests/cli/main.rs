//! The command line as scripts meet it.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    unreachable_pub,
    reason = "tests"
)]

mod cli;
mod data_protection_cli;
mod paper_cli;
mod scenarios;
#[cfg(unix)]
mod sign_in_cli;
