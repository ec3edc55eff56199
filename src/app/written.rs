//! A whole prescription typed into one power: `-2.25/-0.75x90 add +2.00` fills the row.

use serde_json::Value;

use crate::form::{self, Field};
use crate::job::Job;

/// Returns the change a whole written power makes, or why it is none, or nothing when the field
/// takes no powers.
pub(crate) fn whole_power(field: &Field, _text: &str, _job: &Job) -> Option<Result<Value, String>> {
    if !form::is_power_row(field) {
        return None;
    }
    None
}
