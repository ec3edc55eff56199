//! `rimbook`: the job book of a small optical practice.

pub mod eye;
pub mod optics;
pub mod units;
