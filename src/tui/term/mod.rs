//! The terminal: entering and leaving it, its keys, and the loop that joins it to the screens.

pub(crate) mod burst;
mod clipboard;
mod guard;
mod input;
mod run;

pub(crate) use run::{run, show_round};
