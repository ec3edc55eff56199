//! Values that follow from a job: powers, places, lens shape, compensation, accuracy, verification.
//!
//! Pure: a job and the practice's settings go in, numbers come out. Checks, rules and views use them.

pub mod accuracy;
pub mod changes;
pub mod compensation;
pub mod lens;
pub mod places;
pub mod powers;
pub mod readings;
pub mod verification;
