//! What screens and sheets show of a job: derived lines, the table of choices, pictures.

pub mod card;
pub mod choices;
pub mod figures;
mod lines;
pub mod pictures;
pub mod plot;
pub mod recheck;
pub mod sheet;

pub use lines::{MAY_BE_OUT, WorkedLine, lines};
