//! Whether the book still holds an entry of its history that somebody kept.

use super::super::error::DeskError;
use super::super::head::keys;
use super::super::open::Desk;
use super::finding::{DoctorFinding, Level};
use crate::book::store::Against;

impl Desk {
    /// Whether the book holds an entry that somebody kept as a code or a signed file.
    ///
    /// # Errors
    /// [`DeskError`] of the file.
    pub(super) fn look_against(&self, kept: &str) -> Result<DoctorFinding, DeskError> {
        const ID: &str = "head";
        const ASK: &str = "keep the file as it is, and compare it with a backup of the time when the code was kept";
        let since = |n: i64| format!("history holds what was kept, and {n} entries since");
        let fault =
            |message: String, todo: &str| DoctorFinding::bad(ID, Level::Fault, message, todo);
        Ok(match self.store.against(kept, keys())? {
            Against::Held(n) => DoctorFinding::ok(ID, since(n)),
            Against::OtherKey(n) => DoctorFinding::bad(
                ID,
                Level::Warning,
                format!(
                    "{}; it is signed with another key than the one that lies here for this book",
                    since(n)
                ),
                "see whether it was made on another machine, or by another person",
            ),
            Against::NotHeld(entry) => fault(
                format!(
                    "history does not hold entry {entry} as it was kept: it was rewritten, cut off, or restored from before"
                ),
                ASK,
            ),
            Against::OtherBook => fault(
                "what was kept is of another book".to_owned(),
                "name the book it belongs to with --db",
            ),
            Against::NotSigned => fault(
                "the signature of what was kept is not right: the file was changed".to_owned(),
                "use the code that was written down, or the file of another backup",
            ),
            Against::Unreadable => fault(
                "what was kept is no code of history and no signed head".to_owned(),
                "a code begins with the number of the entry, as 79-ABCD-EFGH-JKMN-PQRS-TVWX-YZ01; rimbook doctor --head prints the present one",
            ),
        })
    }
}
