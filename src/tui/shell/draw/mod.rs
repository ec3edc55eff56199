//! What is drawn on or over every screen: the top line, the questions, the help, the list of actions,
//! the tour and the lock. No decision is made here.

mod dialog;
mod frame;
mod header;
mod help;
mod lock;
mod palette;
mod tour;
pub use frame::draw;
