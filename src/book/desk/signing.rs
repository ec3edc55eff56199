//! How the names that somebody is answerable by are kept with a change.

use chrono::NaiveDateTime;
use serde_json::{Value, json};

use super::error::DeskError;
use super::session::sign_in_is_on;
use crate::book::store::Write;
use crate::job::names::{Signer, names_kept};
use crate::job::{Job, Moment, NamesKept, StaffRoll};

/// Who writes, and when.
pub(super) struct Writer<'a> {
    pub(super) session: Option<&'a str>,
    pub(super) staff: &'a StaffRoll,
    pub(super) at: NaiveDateTime,
}

/// Works out how the names of a job are kept after a change in this write, puts that into the job, and
/// returns what is new of it, for the event. Every write of a job comes through here.
///
/// # Errors
/// [`DeskError`] of the file.
pub(super) fn keep_names(
    write: &Write<'_>,
    writer: &Writer<'_>,
    before: &Job,
    after: &mut Job,
    entered: &Value,
) -> Result<NamesKept, DeskError> {
    // A job from before the book meets no gate: nobody has to confirm it.
    if after.is_past() {
        after.names.clear();
        return Ok(NamesKept::new());
    }
    let signer = match writer.session {
        Some(name) if sign_in_is_on(write)? => Some(Signer {
            name,
            at: Moment(writer.at),
        }),
        _ => None,
    };
    let kept = names_kept(before, after, entered, writer.staff, signer)?;
    let was = std::mem::replace(&mut after.names, kept);
    let mut new = after.names.clone();
    new.retain(|path, entry| was.get(path) != Some(entry));
    Ok(new)
}

/// What was entered, from the job, as an event says it; null for any other event.
pub(super) fn entered(detail: &Value) -> Value {
    match (detail["section"].as_str(), &detail["change"]) {
        (Some(section), change) => json!({ section: change }),
        _ => Value::Null,
    }
}
