//! What screens and sheets show of a job: derived lines, the table of choices, pictures.

pub mod choices;
mod lines;
pub mod pictures;

pub use lines::{MAY_BE_OUT, WorkedLine, lines};
