//! What a list says of a visit, kept with what holds the job: a list reads the index of the open jobs
//! and no job itself.

use chrono::NaiveDate;

use crate::job::{Job, Outcome, Reason, Stage};
use crate::store::Held;

/// Before the day on which a wearer comes back.
const BACK: &str = "back-";
/// Before the outcome with which a visit was closed.
const CLOSED: &str = "closed-";

/// Returns what is kept of a visit that waits for its day or is over.
pub(super) fn kept(job: &Job) -> Option<String> {
    if let Some(outcome) = job.closed_as() {
        return Some(format!("{CLOSED}{}", outcome.word().replace(' ', "-")));
    }
    let waits = job.reason == Some(Reason::Recheck)
        && job.stage() == Stage::Measured
        && job.visit.outcome == Some(Outcome::Waiting);
    job.visit
        .review_on
        .filter(|_| waits)
        .map(|day| format!("{BACK}{day}"))
}

/// Takes it out again: what is left holds the job.
pub(super) fn taken_out(held: Held) -> (Held, Option<Outcome>, Option<NaiveDate>) {
    let is_ours = |id: &str| id.starts_with(BACK) || id.starts_with(CLOSED);
    if !held.iter().any(is_ours) {
        return (held, None, None);
    }
    let word = |o: &Outcome| o.word().replace(' ', "-");
    let outcome = held
        .iter()
        .find_map(|id| id.strip_prefix(CLOSED))
        .and_then(|w| Outcome::ALL.iter().copied().find(|o| word(o) == w));
    let back = held
        .iter()
        .find_map(|id| id.strip_prefix(BACK))
        .and_then(|day| day.parse().ok());
    let outcome = outcome.or(back.map(|_: NaiveDate| Outcome::Waiting));
    let rest = held.iter().filter(|id| !is_ours(id)).collect();
    (rest, outcome, back)
}
