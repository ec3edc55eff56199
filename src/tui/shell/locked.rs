//! What the locked screen shows.

use crate::job::{StaffMember, StaffRoll};
use crate::tui::secret::Secret;

/// What the locked screen shows.
#[derive(Debug, Default)]
pub struct Lock {
    /// Who was signed in when it was locked.
    pub was: Option<String>,
    /// Name of the person who is asked for the secret.
    pub selected: Option<String>,
    /// What is typed of it.
    pub line: Secret,
    /// Why the last one was refused.
    pub error: Option<String>,
}

impl Lock {
    /// Who is asked for the secret.
    pub fn person<'a>(&self, staff: &'a StaffRoll) -> Option<&'a StaffMember> {
        staff.0.get(self.place(staff))
    }

    /// Their place in the staff list; the first where the chosen one is not on it.
    pub fn place(&self, staff: &StaffRoll) -> usize {
        let is = |m: &StaffMember| Some(&m.name) == self.selected.as_ref();
        staff.0.iter().position(is).unwrap_or(0)
    }
}
