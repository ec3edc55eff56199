//! A job line by line in words, to be read out on the telephone or heard.

mod draw;
mod state;

pub(crate) use state::State;
