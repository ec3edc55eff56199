//! The house itself: who may import whom, what a package carries.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    unreachable_pub,
    reason = "tests"
)]

mod circles;
mod dependencies;
mod field_paths;
mod import_graph;
mod layers;
mod licences;
mod packages;
mod screens;
