//! The content of printed sheets: data made from a job, one file for each sheet.
//!
//! A sheet is a title and a list of blocks: labelled values, tables with the right eye
//! before the left, sentences, drawings in millimetres. [`crate::exchange::paper`] writes it as a PDF or as
//! text; the same data is behind both. Nothing here depends on storage, a terminal or a clock: today
//! is passed in.

mod build;
mod chart;
mod content;
pub(crate) mod drawing;
mod front;
mod kind;
mod order;
mod ordered_facts;
mod ruler;
mod tray;
pub(crate) mod value_text;
mod wearer;

pub use build::sheet;
pub(crate) use content::{Block, Fact, MARGIN_MM};
pub use content::{CAUTION, Sheet, Subject};
pub use kind::SheetKind;
