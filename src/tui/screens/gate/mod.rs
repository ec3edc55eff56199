//! The gate: what holds the next move of the job, worst first, and what can be done about it.

mod draw;
mod state;

pub(crate) use state::State;
