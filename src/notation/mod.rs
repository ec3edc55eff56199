//! Reading a written prescription: one line in, one prescription or one refusal out.
//!
//! Nothing is ever guessed. The checks run in a fixed order (characters, commas, eyes, structure,
//! powers, cylinder with axis, prism, leftovers) and the earliest that fails is the one refusal;
//! `docs/notation.md` tells a person what can be typed.

mod answer;
mod characters;
mod error;
mod eye_line;
mod eyes;
mod number;
mod prism;
mod token;

pub use answer::answer;
pub use error::{ErrorKind, NotationError};
pub use eyes::read;
pub use prism::{PrismBase, WrittenPrism};

use crate::eye::{Eye, PerEye};
use crate::units::{Dioptre, Millimetre, PrismDioptre};

/// A power as written: whole eighths of a dioptre.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Eighths(pub i16);

impl Eighths {
    /// Returns the power in dioptres, exactly.
    pub fn to_dioptre(self) -> Dioptre {
        Dioptre::from_thousandths(i32::from(self.0) * 125)
    }
}

/// One eye's prescription as it was written, in the cylinder form it was written in.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct WrittenRx {
    /// Sphere.
    pub sphere: Eighths,
    /// Cylinder; absent for a sphere.
    pub cylinder: Option<Eighths>,
    /// Axis, 1 to 180 degrees; there exactly when the cylinder is.
    pub axis_deg: Option<u16>,
    /// Reading addition.
    pub addition: Option<Eighths>,
    /// Prism: at most one horizontal and one vertical component, or one angle.
    pub prism: Vec<WrittenPrism>,
    /// Acuity as written.
    pub acuity: Option<String>,
    /// Vertex distance, mm.
    pub vertex_mm: Option<Millimetre>,
}

/// What a line held.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reading {
    /// One eye, labelled or not.
    One {
        /// The eye, when it was labelled.
        eye: Option<Eye>,
        /// Its prescription.
        rx: WrittenRx,
    },
    /// Both eyes.
    Two(PerEye<WrittenRx>),
}

impl WrittenRx {
    /// Returns the prism as components, base in and base up, to a hundredth; absent where no prism
    /// was written.
    pub fn prism_components(&self, eye: Eye) -> (Option<PrismDioptre>, Option<PrismDioptre>) {
        prism::components(&self.prism, eye)
    }
}
