//! What a practice has decided: its standard, thresholds, limits of suspicion and printing.

mod printing;
mod settings;
pub mod suspects;
pub mod template;
pub mod thresholds;

pub use printing::{Paper, Printing, command_words};
pub use settings::{Practice, Setting, settings};
pub use thresholds::{Threshold, Thresholds};
