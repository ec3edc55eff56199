//! What is true of a job, and what holds it.

pub(crate) mod derive;
pub(crate) mod gate;
pub(crate) mod rules;
