//! `rimbook`: the job book of a small optical practice.

pub mod calc;
pub mod eye;
pub mod gate;
pub mod job;
pub mod notation;
pub mod optics;
pub mod tolerance;
pub mod units;
