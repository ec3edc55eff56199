//! The worklist: the open jobs in the order in which they need somebody, and today.

mod draw;
mod state;

pub(crate) use state::State;
