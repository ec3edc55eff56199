//! `rimbook`: the job book of a small optical practice.
//!
//! The path of one keystroke: `term` reads a key, `app` turns it into an action and updates its state
//! (asking `gate`, `tolerance` and `optics` what is true), what is wanted of the book leaves as an
//! effect, `desk` and `store` carry it out in one transaction, a message comes back, `ui` draws.
//!
//! # Example: what 3 mm more vertex distance does to a strong lens
//! ```
//! use rimbook::testing::trade::optics::{Rx, vertex::strongest_change_d};
//!
//! let change = strongest_change_d(Rx::sphere(-10.0), 12.0, 15.0).unwrap();
//! assert!((change.abs() - 0.31).abs() < 0.01, "about F squared over 1000 for each millimetre");
//! ```

mod book;
mod cli;
mod exchange;
mod job;
mod judge;
mod practice;
pub mod testing;
mod text;
mod trade;
mod tui;
mod views;

pub use cli::run;
