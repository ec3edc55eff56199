//! What is asked over a screen, and what becomes of each answer.
//!
//! A question is asked by an asker. An asker of one of several makes the answers itself, as values:
//! a name, the number of a job, a kind. What is chosen is the value shown, whatever has happened to
//! the book since.

pub(crate) mod begin_job;
pub(crate) mod contact;
pub(crate) mod print;
pub(crate) mod recheck;
pub(crate) mod remake_price;
pub(crate) mod repair;
pub(crate) mod review;
pub(crate) mod settings;
pub(crate) mod sign_in;
pub(crate) mod typed_names;
pub(crate) mod who;
