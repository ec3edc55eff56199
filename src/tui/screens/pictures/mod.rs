//! The pictures of a job, one after the other.

mod draw;
mod state;

pub(crate) use state::State;
