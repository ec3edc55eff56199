//! Values that follow from a job: powers, places, lens shape, compensation, accuracy, verification.
//!
//! Pure: a job and the practice's settings go in, numbers come out. Checks, rules and views use them.

pub(crate) mod accuracy;
pub(crate) mod changes;
pub(crate) mod compensates;
pub(crate) mod compensation;
pub(crate) mod lens;
pub(crate) mod lowering;
pub(crate) mod marks;
pub(crate) mod office;
pub(crate) mod one_eye;
pub(crate) mod places;
pub(crate) mod powers;
pub(crate) mod readings;
pub(crate) mod remade;
pub(crate) mod segments;
pub(crate) mod sight;
pub(crate) mod tint;
pub(crate) mod verification;
