//! What screens and sheets show of a job: derived lines, the table of choices, pictures.

pub(crate) mod card;
pub(crate) mod choices;
pub(crate) mod figures;
pub(crate) mod pictures;
pub(crate) mod plot;
pub(crate) mod recheck;
pub(crate) mod sheet;
mod worked_lines;

pub use worked_lines::lines;
pub(crate) use worked_lines::{MAY_BE_OUT, WorkedLine};
