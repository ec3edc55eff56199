//! What was written before is offered beside an entry: shown, and taken only by a key of its own.
//!
//! Offered are the words that come back from job to job: the laboratory, and by their beginning the
//! prescriber and the coatings. Never a power, a measurement, an allergy or anything of a wearer.

use super::editor::Edit;
use super::effect::Effect;
use super::key::Key;
use super::line::Line;
use super::{App, entry};
use crate::desk::WearerId;
use crate::form::{Field, at};

/// How many earlier reasons are shown.
pub const REASONS: usize = 3;

/// Returns what is offered for the entry under the cursor, if anything.
pub fn offered(app: &App) -> Option<&str> {
    let job = app.job.as_ref()?;
    let field = entry::field(job)?;
    let path = field.full_path();
    if let Some(edit) = &job.edit {
        let typed = edit.line.text();
        return beginning_with(app, field, typed).filter(|_| edit.path == path);
    }
    // Empty, only the laboratory is likely to be the one of the last order.
    let is_asked = *field == *at!(order.laboratory) && field.value(&job.open.job).is_none();
    let first = words(app, field)?.first().map(String::as_str);
    first.filter(|_| is_asked)
}

fn words<'a>(app: &'a App, field: &Field) -> Option<&'a [String]> {
    let used = app.used.as_ref()?;
    if field == at!(order.laboratory) {
        Some(&used.laboratories)
    } else if field == at!(prescription.prescriber) {
        Some(&used.prescribers)
    } else if field == at!(lenses.coatings) {
        Some(&used.coatings)
    } else {
        None
    }
}

/// The newest that begins with what is typed, or of which a word does.
fn beginning_with<'a>(app: &'a App, field: &Field, typed: &str) -> Option<&'a str> {
    let typed = typed.trim().to_lowercase();
    if typed.is_empty() {
        return None;
    }
    words(app, field)?.iter().map(String::as_str).find(|word| {
        let lower = word.to_lowercase();
        let begins = lower.match_indices(&typed).any(|(at, _)| {
            lower
                .get(..at)
                .is_some_and(|b| b.is_empty() || b.ends_with(' '))
        });
        begins && lower != typed
    })
}

/// Puts what is offered into the entry; it is kept like what is typed.
pub(crate) fn take(app: &mut App) -> Vec<Effect> {
    let Some(text) = offered(app).map(str::to_owned) else {
        app.say("Nothing is offered for this entry: type it.");
        return Vec::new();
    };
    if let Some(job) = &mut app.job
        && let Some(field) = entry::field(job)
        && job.edit.is_none()
    {
        job.edit = Some(Edit {
            path: field.full_path(),
            line: Line::default(),
            error: None,
            touched: true,
        });
    }
    entry::retype(app, &text)
}

/// Returns the reasons for which a check was accepted before and that are offered.
pub fn reasons<'a>(app: &'a App, check: &str) -> Vec<&'a str> {
    let (Some(used), Some(job)) = (&app.used, &app.job) else {
        return Vec::new();
    };
    let wearer = WearerId::of(&job.open.job.wearer);
    let mut reasons = used.reasons_for(check, &job.open.number, &wearer);
    reasons.truncate(REASONS);
    reasons
}

/// Puts the next earlier reason into the line, or the one before; says whether the key was one for
/// that.
pub(crate) fn other_reason(app: &App, check: &str, line: &mut Line, key: Key) -> bool {
    if !key.is("down") && !key.is("up") {
        return false;
    }
    let reasons = reasons(app, check);
    let at = reasons.iter().position(|r| *r == line.text());
    let to = match (at, key.is("down")) {
        (None, true) => Some(0),
        (Some(at), true) => Some((at + 1).min(reasons.len().saturating_sub(1))),
        (Some(at), false) => at.checked_sub(1),
        (None, false) => None,
    };
    // What somebody has written is theirs: it is not replaced.
    if at.is_some() || line.text().is_empty() {
        let text = to.and_then(|to| reasons.get(to)).copied();
        *line = Line::of(text.unwrap_or_default());
    }
    true
}
