//! The optics of spectacles as pure functions: one file for each family of formulas.
//!
//! Everything is computed in `f64` and in full precision; units are in the names. Signs: horizontal
//! positions and prism bases are positive towards the nose, vertical ones positive upwards.

pub mod power;

pub use power::{PowerMatrix, Rx};
