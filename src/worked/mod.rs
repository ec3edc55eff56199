//! Values worked out from a job, live beside the entries they depend on.
//!
//! Pure: a job goes in, numbers come out. Screens show them, checks compare them.

pub mod accuracy;
pub mod advice;
pub mod carry;
pub mod choices;
pub mod compensation;
pub mod faults;
pub mod lens;
mod lines;
pub mod pictures;
pub mod places;
pub mod powers;
pub mod remedy;
pub mod repeats;
pub mod verification;

pub use lines::{MAY_BE_OUT, WorkedLine, lines, reading_drop_mm, written};
