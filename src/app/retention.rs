//! The list of wearers whose records are due for review. It erases nothing: it opens a job.

use super::App;
use super::dialog::Purpose;
use super::effect::Effect;
use crate::desk::Review;

/// Shows who is due, the longest due first.
pub(crate) fn show(app: &mut App, due: &[Review]) -> Vec<Effect> {
    if due.is_empty() {
        app.say("No wearer's records are due for review.");
        return Vec::new();
    }
    let items = due
        .iter()
        .map(|r| {
            let born = r.born.map_or_else(String::new, |b| format!(" born {b}"));
            let jobs = match r.numbers.len() {
                1 => "1 job".to_owned(),
                n => format!("{n} jobs"),
            };
            let wearer = &r.wearer;
            format!(
                "{wearer}{born}, {jobs}, seen {}, due {}: {}",
                r.last_seen, r.due_on, r.why
            )
        })
        .collect();
    let numbers = due
        .iter()
        .filter_map(|r| r.numbers.last().cloned())
        .collect();
    app.choose(
        "Due for review, the longest due first. Nothing is erased by itself: Enter opens the newest job; \
         rimbook erase NUMBER on the command line erases.",
        items,
        Purpose::Review { numbers },
    );
    Vec::new()
}

/// Opens the newest job of the wearer that was chosen.
pub(crate) fn chosen(numbers: &[String], index: usize) -> Vec<Effect> {
    numbers
        .get(index)
        .map_or_else(Vec::new, |n| vec![Effect::Open(n.clone())])
}
