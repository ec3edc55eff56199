//! `rimbook`: the job book of a small optical practice.

pub mod app;
pub mod calc;
pub mod card;
pub mod cli;
pub mod clock;
pub mod demo;
pub mod desk;
pub mod eye;
pub mod form;
pub mod gate;
pub mod job;
pub mod notation;
pub mod optics;
pub mod store;
pub mod term;
pub mod text;
pub mod tolerance;
pub mod ui;
pub mod units;
pub mod worked;
