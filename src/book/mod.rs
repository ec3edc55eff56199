//! The file that holds the jobs, and everything a person can do with it.

pub(crate) mod clock;
pub(crate) mod demo;
pub(crate) mod desk;
pub(crate) mod store;
