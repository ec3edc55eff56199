//! The visit about a pair that came back: differences, steps, causes, outcome, a page each.

mod draw;
mod page;
mod state;

pub use page::Page;
pub use state::State;
