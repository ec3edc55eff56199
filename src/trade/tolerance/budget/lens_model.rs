//! The powers that the budget needs of a lens that is moved or tilted.

use crate::trade::eye::Eye;
use crate::trade::optics::power::PowerMatrix;

/// How a lens's power depends on where and how it is worn.
pub trait LensModel {
    /// Returns the power that has the same effect `farther_mm` farther from the eye; `None` where the
    /// lens would be beyond its focal point.
    fn moved(&self, power: PowerMatrix, farther_mm: f64) -> Option<PowerMatrix>;

    /// Returns the power the eye meets through a tilted lens; `None` where there is none.
    fn as_worn(&self, eye: Eye, power: PowerMatrix, worn: Worn) -> Option<PowerMatrix>;
}

/// The refractive index of a lens and the angles at which it is worn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worn {
    /// Refractive index.
    pub index: f64,
    /// Pantoscopic angle, degrees, the bottom towards the face.
    pub pantoscopic_deg: f64,
    /// Face-form angle, degrees, the temporal edge towards the face.
    pub face_form_deg: f64,
}
