//! How far a measurement may be wrong: below and above the recorded value.

use crate::trade::tolerance::lines::{LineEye, Quantity};

/// How far a measurement may be wrong in one direction, and the limit that ends it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Side {
    /// How far, in the measurement's unit, never negative.
    pub by: f64,
    /// The comparison that breaks first.
    pub rule: Quantity,
    /// Whose comparison it is.
    pub eye: LineEye,
}

/// How far the true value may lie from the recorded one.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Allowance {
    /// How far below the recorded value the true one may lie; `None`: no limit is ever reached.
    pub minus: Option<Side>,
    /// How far above the recorded value the true one may lie; `None`: no limit is ever reached.
    pub plus: Option<Side>,
}

impl Allowance {
    /// Returns the smaller of the two sides; `None` when neither has an end.
    pub fn smallest(&self) -> Option<f64> {
        smaller(self.minus, self.plus).map(|s| s.by)
    }
}

/// Returns the side that ends first; `None` when neither has an end.
pub(crate) fn smaller(a: Option<Side>, b: Option<Side>) -> Option<Side> {
    match (a, b) {
        (Some(a), Some(b)) => Some(if b.by < a.by { b } else { a }),
        (one, other) => one.or(other),
    }
}
