//! What goes in and out: job files, CSV, FHIR, calendar, sheets, calculations.

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
#[path = "../support/faults.rs"]
mod faults;
#[path = "../support/fhir.rs"]
mod fhir;
#[path = "../support/long.rs"]
mod long;

mod calc_lines;
mod calc_vectors;
mod calendar;
mod exchange_cli;
mod exchange_csv;
mod exchange_fhir;
mod exchange_fhir_definition;
mod exchange_fhir_read;
mod exchange_schema;
mod fuzz_readers;
mod paper;
