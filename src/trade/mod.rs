//! Sums and facts of the trade: powers, lengths, tolerances, written prescriptions. No job, no file.

pub(crate) mod eye;
pub(crate) mod gs1;
pub(crate) mod notation;
pub(crate) mod optics;
pub(crate) mod tolerance;
pub(crate) mod units;
