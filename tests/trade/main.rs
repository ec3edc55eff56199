//! Sums and facts of the trade: optics, tolerances, notation, materials.

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
#[path = "../support/long.rs"]
mod long;

mod formulas_page;
mod gs1;
mod handbook_cases;
mod impossible;
mod no_allocation;
mod open_data;
mod optics_laws;
mod reference_cases;
mod rx_notation;
mod rx_notation_laws;
mod tolerance_bands;
mod tolerance_budget;
mod tolerance_laws;
mod tolerance_page;
mod tolerance_vectors;
