//! The shell: routes inputs to the current screen and news to those on the stack, and carries out
//! what they want. It alone knows which screens there are, and it alone changes the [`App`].
//!
//! [`App`]: App

mod app;
mod ask;
mod back;
mod cache;
mod carry_out;
mod dialog;
mod dispatch;
pub(crate) mod draw;
pub(crate) mod hints;
pub(crate) mod lock;
mod locked;
mod open;
pub(crate) mod palette;
mod press;
mod questions;
mod ready;
mod route;
mod run;
mod scan;
mod screens;
mod see;
pub(crate) mod selected;
pub(crate) mod tour;
mod undo;
pub(crate) mod update;

pub use app::App;
