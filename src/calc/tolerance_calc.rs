//! `tolerance`: a pair as made against a pair as ordered.

use serde_json::Value;

use super::error::{CalcError, Kind};
use super::request::Fields;

/// Answers a `tolerance` request.
pub(super) fn answer(_fields: &Fields<'_, '_>) -> Result<Value, CalcError> {
    Err(CalcError::new(
        Kind::UnknownCalc,
        "the calculation \"tolerance\" is not part of this build",
    ))
}
