//! What a pair is: its fields, its file, and what may be written into either.

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
#[path = "../support/long.rs"]
mod long;

mod days_in_reach;
mod docs_job_file;
mod form_fields;
mod form_laws;
mod heights_again;
mod revised_fields;
mod strict_files;
