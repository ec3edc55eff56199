//! The demo book: an invented practice with jobs at every stage.
//!
//! The practice is written down in `demo-db/`, one readable file per job, with every date counted
//! from the day of the demonstration. A job reaches its stage by the steps in its file, each of
//! them played through the desk, so that no demo job has passed a gate it would not pass.

mod build;
mod demo_file;
mod many;
mod pair;
mod random;
mod refraction;
mod wearer;

pub use build::build;
pub use demo_file::{DemoError, DemoJob, DemoStep, files, resolve, staff};
pub use many::build_many;
