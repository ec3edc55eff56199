//! Sums and facts of the trade: powers, lengths, tolerances, written prescriptions. No job, no file.

pub mod eye;
pub mod notation;
pub mod optics;
pub mod tolerance;
pub mod units;
