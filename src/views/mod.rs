//! What screens and sheets show of a job: derived lines, the table of choices, pictures.

pub(crate) mod card;
pub(crate) mod choices;
pub(crate) mod figures;
mod lines;
pub(crate) mod pictures;
pub(crate) mod plot;
pub(crate) mod recheck;
pub(crate) mod sheet;

pub use lines::lines;
pub(crate) use lines::{MAY_BE_OUT, WorkedLine};
