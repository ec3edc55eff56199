//! `tolerance`: a pair as made against a pair as ordered.

use serde_json::Value;

use super::error::{CalcError, Kind};
use super::request::Fields;

/// Answers a `tolerance` request; the reader of its keys lives with the tables.
pub(super) fn answer(fields: &Fields<'_, '_>) -> Result<Value, CalcError> {
    crate::tolerance::json::answer(&fields.to_map())
        .map_err(|(kind, message)| CalcError::new(Kind::from_word(kind), message))
}
