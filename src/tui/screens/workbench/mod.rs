//! The workbench: any calculation without a job, or with the values of one.
//!
//! [`table`] says what there is, [`request`] asks the same core as the command line, `fill` takes
//! values from a job, `carry` offers results to it.

mod behaviour;
pub(crate) mod calculation;
mod carry;
mod draw;
mod edit;
mod fill;
pub(crate) mod picture;
pub(crate) mod request;
mod sheet;
mod state;
pub(crate) mod table;

pub(crate) use state::State;
