//! What came from the laboratory this morning: one pair after the other is trued, read with its
//! order hidden, compared with the order, and passed or sent back.

mod behaviour;
mod decide;
mod draw;
mod reading;
mod state;
mod steps;
mod verdict;

pub use state::State;
