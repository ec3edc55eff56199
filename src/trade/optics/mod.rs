//! The optics of spectacles as pure functions: one file for each family of formulas.
//!
//! Everything is computed in `f64` and in full precision; units are in the names. Signs: horizontal
//! positions and prism bases are positive towards the nose, vertical ones positive upwards.
//! Nothing here allocates on the way to an answer, reads or writes. A lens that cannot exist is an
//! [`OpticsError::Impossible`] that says why, never an infinite or undefined number.

pub(crate) mod aniseikonia;
pub(crate) mod as_worn;
pub(crate) mod back_vertex;
pub(crate) mod base_curve;
pub(crate) mod blank;
pub(crate) mod centration;
pub(crate) mod chromatic;
pub(crate) mod clear_range;
pub(crate) mod combine;
pub(crate) mod curves;
mod edge;
pub(crate) mod error;
mod integral;
pub(crate) mod magnification;
pub(crate) mod materials;
pub(crate) mod meridian;
pub(crate) mod near_prism;
pub(crate) mod outline;
pub(crate) mod power;
pub(crate) mod prism;
pub(crate) mod prism_control;
pub(crate) mod prism_shift;
mod ray_trace;
mod surface;
pub(crate) mod thickness;
mod thinnest;
pub(crate) mod tilt;
pub(crate) mod vector;
pub(crate) mod vertex;

pub(crate) use error::OpticsError;
pub use power::{PowerMatrix, Rx};
