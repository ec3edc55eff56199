//! The figures of the practice's work: which period, which page, which figure.

mod draw;
mod state;

pub(crate) use state::State;
