//! The collections of the day: the on-face checks one after the other, one key each.

mod checks;
mod draw;
mod state;

pub use checks::{Giver, HandoverCheck, steps};
pub use state::{State, answered, steps_now};
