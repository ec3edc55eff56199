//! What a practice has decided: its standard, thresholds, limits of suspicion and printing.

mod printing;
mod settings;
pub(crate) mod suspects;
pub(crate) mod template;
pub(crate) mod thresholds;
mod ways;

pub(crate) use printing::{Paper, command_words};
pub(crate) use settings::Setting;
pub use settings::{Practice, settings};
pub use thresholds::{Threshold, Thresholds};
pub use ways::Way;
