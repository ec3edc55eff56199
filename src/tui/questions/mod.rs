//! What is asked over a screen, and what becomes of each answer.
//!
//! A question is asked by an asker. An asker of one of several makes the answers itself, as values:
//! a name, the number of a job, a kind. What is chosen is the value shown, whatever has happened to
//! the book since.

pub mod begin_job;
pub mod contact;
pub mod print;
pub mod recheck;
pub mod remake_price;
pub mod repair;
pub mod review;
pub mod settings;
pub mod sign_in;
pub mod who;
