//! How prescribed prism moves the lines of sight across the lenses.

use crate::job::Job;
use crate::judge::derive::places::VERTEX_MM;
use crate::judge::derive::powers::prescribed_prism;
use crate::trade::eye::Eye;
use crate::trade::optics::centration::ROTATION_MM;
use crate::trade::units::{Millimetre, PrismDioptre};

/// The least shift that is said: less is nought to a tenth, mm.
const SAID_MM: f64 = 0.05;

/// Shift of a line of sight at the lens, away from the base of the prism, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SightShift {
    /// Away from the nose: the centration distance grows by it.
    pub out_mm: f64,
    /// Upwards: the height grows by it.
    pub up_mm: f64,
}

impl SightShift {
    /// A line of sight that is where it was measured.
    pub(crate) const NONE: Self = Self {
        out_mm: 0.0,
        up_mm: 0.0,
    };

    /// Whether it is so small that it is not said.
    pub(crate) fn is_none(self) -> bool {
        self.out_mm.abs() < SAID_MM && self.up_mm.abs() < SAID_MM
    }

    /// Returns it in words, to a tenth: `0.8 mm out and 1.1 mm down`.
    pub(crate) fn says(self) -> String {
        let one = |mm: f64, plus: &str, minus: &str| {
            let way = if mm < 0.0 { minus } else { plus };
            (mm.abs() >= SAID_MM).then(|| format!("{:.1} mm {way}", mm.abs()))
        };
        let both = [one(self.out_mm, "out", "in"), one(self.up_mm, "up", "down")];
        let said: Vec<String> = both.into_iter().flatten().collect();
        if said.is_empty() {
            "none".to_owned()
        } else {
            said.join(" and ")
        }
    }
}

/// Returns how the prescribed prism of an eye moves its line of sight: distance of the lens from the
/// centre of rotation times the prism. The vertex distance is the fitted one, else 12 mm.
pub(crate) fn sight_shift(job: &Job, eye: Eye) -> SightShift {
    let vertex_mm = job.fitting.eye(eye).vertex_mm;
    let rotation_mm = vertex_mm.map_or(VERTEX_MM, Millimetre::get) + ROTATION_MM;
    let [base_in, base_up] = prescribed_prism(job, eye);
    let shift_mm =
        |prism: Option<PrismDioptre>| rotation_mm * prism.map_or(0.0, PrismDioptre::get) / 100.0;
    SightShift {
        out_mm: shift_mm(base_in),
        up_mm: -shift_mm(base_up),
    }
}
