//! Materials and base curves of a job side by side.

mod draw;
mod state;

pub use state::State;
