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
mod open;
pub(crate) mod palette;
mod press;
mod questions;
mod route;
mod scan;
mod screens;
mod see;
pub(crate) mod selected;
pub(crate) mod tour;
mod undo;
pub(crate) mod update;

pub use app::App;
pub(crate) use back::back;
pub(crate) use carry_out::carry_out;
pub(crate) use open::{look_up, open, wanted_visit};
pub(crate) use press::{paste, press};
pub(crate) use questions::{ask_who, asked, settings_again, welcome};
pub(crate) use route::{go, is_of_screens, news, news_here, tell, update};
pub(crate) use undo::{undo, undo_origins};
