//! The form of a job: its sections, the entries of both eyes side by side, and what is worked out.

mod draw;
mod entries;
mod history_draw;
mod marked;
mod next_entry;
mod state;
mod suggest;
mod verify_draw;

pub(crate) use state::State;
