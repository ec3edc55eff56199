//! Why a formula has no answer.

use std::borrow::Cow;

use crate::trade::units::OutOfRange;

/// Why a formula has no answer for what it was given.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum OpticsError {
    /// Each number may be right, but no lens or eye can be like that.
    #[error("{why}")]
    Impossible {
        /// What cannot be, in numbers, and what to change.
        why: Cow<'static, str>,
    },
    /// A number that is outside what the formula is for.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

impl OpticsError {
    /// Returns the error for something that cannot exist.
    pub fn impossible(why: impl Into<Cow<'static, str>>) -> Self {
        Self::Impossible { why: why.into() }
    }
}

/// Refuses a refractive index that no lens material has.
pub(super) fn check_index(index: f64) -> Result<(), OpticsError> {
    within(index, "refractive indices", 1.0 + 1e-6, 4.0, "")
}

/// Refuses a number that is not finite or lies outside `low..=high`.
pub(super) fn within(
    value: f64,
    what: &'static str,
    low: f64,
    high: f64,
    unit: &'static str,
) -> Result<(), OpticsError> {
    if value.is_finite() && (low..=high).contains(&value) {
        Ok(())
    } else {
        Err(OutOfRange {
            what,
            value,
            low,
            high,
            unit,
        }
        .into())
    }
}

/// Passes a result on only when it is a finite number.
///
/// The last guard of a formula: inputs so large that arithmetic overflows have no answer.
pub(super) fn finite(value: f64) -> Result<f64, OpticsError> {
    if value.is_finite() {
        Ok(value)
    } else {
        Err(OpticsError::impossible(
            "the numbers are too large for the formula and no finite result exists: check them",
        ))
    }
}
