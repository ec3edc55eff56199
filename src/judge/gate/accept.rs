//! Who may accept a warning, and which findings an acceptance settles.

use chrono::NaiveDate;
use serde_json::Value;

use super::acceptance::{Acceptance, Values};
use super::finding::{Acceptable, Finding};
use super::id::CheckId;
use crate::job::{NumberRule, StaffMember, current_word};

/// The values with the words that are written now in place of those of earlier versions.
fn in_current_words(values: &Values) -> Values {
    let current = |value: &Value| match value {
        Value::String(word) => Value::from(current_word(word)),
        other => other.clone(),
    };
    values
        .iter()
        .map(|(key, value)| (key.clone(), current(value)))
        .collect()
}

impl Acceptance {
    /// Whether this acceptance settles a finding. A stop is never settled, not even by an acceptance
    /// given while the same values were only a warning.
    pub fn settles(&self, finding: &Finding) -> bool {
        finding.accept != Acceptable::Nobody
            && finding.check == *self.check
            && self.eye.as_deref() == finding.eye.word()
            && in_current_words(&self.values) == in_current_words(&finding.values)
    }

    /// Accepts one finding.
    ///
    /// # Errors
    /// [`Refusal`] when there is no reason, the role is too low or the person not registered, or
    /// nobody may accept it.
    pub fn of(
        finding: &Finding,
        by: &StaffMember,
        rule: NumberRule,
        reason: &str,
        on: NaiveDate,
    ) -> Result<Self, Refusal> {
        let reason = reason.trim();
        if !finding.accept.allows(by.role) {
            return Err(Refusal::Role {
                check: finding.check,
                needs: finding.accept.word(),
                has: by.role.word(),
            });
        }
        if by.lacks_number(rule) {
            return Err(Refusal::Number {
                name: by.name.clone(),
            });
        }
        if reason.is_empty() {
            return Err(Refusal::NoReason);
        }
        Ok(Self {
            check: finding.check.to_string(),
            eye: finding.eye.word().map(str::to_owned),
            values: finding.values.clone(),
            by: by.name.clone(),
            role: by.role.word().to_owned(),
            reason: reason.to_owned(),
            on,
            shown: finding.limit.as_ref().map_or_else(
                || finding.message.clone(),
                |limit| format!("{} (limit {limit})", finding.message),
            ),
        })
    }
}

/// Why a finding was not accepted.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Refusal {
    /// The role is too low, or nobody may.
    #[error(
        "{check} may be accepted by: {needs}; you are signed in as {has}. Change the values, or ask somebody who may"
    )]
    Role {
        /// The check.
        check: CheckId,
        /// The lowest role that may.
        needs: &'static str,
        /// The role that tried.
        has: &'static str,
    },
    /// The person has the role and no registration number.
    #[error(
        "{name} has no registration number on the staff list and counts as not registered: add the number, or ask somebody registered"
    )]
    Number {
        /// The person.
        name: String,
    },
    /// A reason must be written.
    #[error("write why it is accepted: an acceptance without a reason is not kept")]
    NoReason,
}
