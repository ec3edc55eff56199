//! What the screens know and how it changes; no terminal, no drawing, no storage here.
//!
//! The path of a keystroke: the terminal gives a [`key::Key`], the [`keymap`] makes an
//! [`action::Action`] of it, [`update`] changes the [`App`] and returns [`effect::Effect`]s,
//! [`perform`] does those to the book and returns [`effect::Message`]s, which come back to
//! [`update`]; then the screen is drawn from the [`App`] alone.

pub(crate) mod earlier_reasons;
pub(crate) mod editor;
pub(crate) mod effect;
pub(crate) mod form_rows;
pub(crate) mod gating;
pub(crate) mod job_view;
pub(crate) mod keys;
pub(crate) mod line;
mod list;
mod news;
mod next;
pub(crate) mod notice;
pub(crate) mod perform;
pub(crate) mod question;
pub(crate) mod questions;
mod screen_name;
pub(crate) mod screens;
pub(crate) mod secret;
pub(crate) mod seen;
pub(crate) mod shell;
pub(crate) mod term;
pub(crate) mod text;
pub(crate) mod visit_entries;
pub(crate) mod widgets;

pub use keys::{action, help, key, keymap};
pub use screen_name::Screen;
pub use shell::App;
