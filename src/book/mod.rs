//! The file that holds the jobs, and everything a person can do with it.

pub mod clock;
pub mod demo;
pub mod desk;
pub mod store;
