//! The desk: everything a person can do with the book, the same for screens and command line.

mod view;

pub use view::{Accepted, Advance, Event, JobLine, OpenJob, Question};
mod stand_in; pub use stand_in::*;
