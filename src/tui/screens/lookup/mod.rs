//! The look-up: jobs by name, number, telephone, date of birth or frame, while it is typed.

mod draw;
mod state;

pub(crate) use state::State;
