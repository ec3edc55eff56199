//! Earlier reasons for which a check was accepted, offered where one is asked for.

use super::App;
use super::key::Key;
use super::line::Line;
use crate::book::desk::WearerId;

/// How many earlier reasons are shown.
pub(crate) const REASONS: usize = 3;

/// Returns the reasons for which a check was accepted in earlier jobs, at most [`REASONS`].
pub(crate) fn offered<'a>(app: &'a App, check: &str) -> Vec<&'a str> {
    let (Some(used), Some(job)) = (&app.used, &app.job) else {
        return Vec::new();
    };
    let wearer = WearerId::of(&job.open.job.wearer);
    let mut reasons = used.reasons_for(check, &job.open.number, &wearer);
    reasons.truncate(REASONS);
    reasons
}

/// Puts the next or the previous earlier reason into the line, for a key that moves down or up;
/// returns whether the key was one of these. A reason that somebody typed is not replaced.
pub(crate) fn chosen_by_key(app: &App, check: &str, line: &mut Line, key: Key) -> bool {
    if !key.is("down") && !key.is("up") {
        return false;
    }
    let reasons = offered(app, check);
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
