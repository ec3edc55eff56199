//! The optics of spectacles as pure functions: one file for each family of formulas.
//!
//! Everything is computed in `f64` and in full precision; units are in the names. Signs: horizontal
//! positions and prism bases are positive towards the nose, vertical ones positive upwards.
//! Nothing here allocates on the way to an answer, reads or writes. A lens that cannot exist is an
//! [`OpticsError::Impossible`] that says why, never an infinite or undefined number.

pub mod as_worn;
pub mod back_vertex;
pub mod base_curve;
pub mod blank;
pub mod centration;
pub mod chromatic;
pub mod combine;
pub mod curves;
mod edge;
pub mod error;
pub mod magnification;
pub mod materials;
pub mod meridian;
pub mod near_prism;
pub mod outline;
pub mod power;
pub mod prism;
mod ray_trace;
mod surface;
pub mod thickness;
pub mod tilt;
pub mod vector;
pub mod vertex;

pub use error::OpticsError;
pub use power::{PowerMatrix, Rx};
