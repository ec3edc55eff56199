//! What is true of a job, and what holds it.

pub mod derive;
pub mod gate;
pub mod rules;
