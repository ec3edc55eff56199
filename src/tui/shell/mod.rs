//! The shell: routes inputs to the current screen and news to those on the stack, and carries out
//! what they want. It alone knows which screens there are, and it alone changes the [`App`].
//!
//! [`App`]: super::App

mod ask;
mod back;
mod carry_out;
pub(crate) mod draw;
mod open;
mod press;
mod questions;
mod route;
mod screens;
mod see;
mod undo;

pub(crate) use back::back;
pub(crate) use carry_out::carry_out;
pub(crate) use open::{look_up, open, wanted_visit};
pub(crate) use press::{paste, press};
pub(crate) use questions::{ask_who, asked, settings_again, welcome};
pub(crate) use route::{go, is_of_screens, news, news_here, tell, update};
pub(crate) use screens::States;
pub(crate) use undo::{undo, undo_origins};
