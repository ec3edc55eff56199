//! The list of wearers whose records are due for review. It erases nothing: it opens a job.

use crate::book::desk::Review;
use crate::tui::effect::Effect;
use crate::tui::next::{Next, Question};

/// Shows who is due, the longest due first.
pub(crate) fn show(due: &[Review]) -> Next {
    if due.is_empty() {
        return Next::say("No wearer's records are due for review.");
    }
    let offered = due
        .iter()
        .filter_map(|r| {
            let newest = r.numbers.last()?.clone();
            let born = r.born.map_or_else(String::new, |b| format!(" born {b}"));
            let jobs = match r.numbers.len() {
                1 => "1 job".to_owned(),
                n => format!("{n} jobs"),
            };
            let wearer = &r.wearer;
            let label = format!(
                "{wearer}{born}, {jobs}, seen {}, due {}: {}",
                r.last_seen, r.due_on, r.why
            );
            Some((label, Next::Do(vec![Effect::Open(newest)])))
        })
        .collect();
    Next::Ask(Question::choose(
        "Due for review, the longest due first. Nothing is erased by itself: Enter opens the newest job; \
         rimbook erase NUMBER on the command line erases.",
        offered,
    ))
}
