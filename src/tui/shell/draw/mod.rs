//! What is drawn on or over every screen: the top line, the questions, the help, the list of actions,
//! the tour and the lock. No decision is made here.

pub(crate) mod dialog;
pub(crate) mod header;
pub(crate) mod help;
pub(crate) mod lock;
mod palette;
pub(crate) mod tour;
