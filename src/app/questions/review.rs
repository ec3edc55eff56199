//! The list of wearers whose records are due for review. It erases nothing: it opens a job.

use crate::app::App;
use crate::app::effect::Effect;
use crate::app::question::ChoiceAsker;
use crate::desk::Review;

/// Shows who is due, the longest due first.
pub(crate) fn show(app: &mut App, due: &[Review]) -> Vec<Effect> {
    if due.is_empty() {
        app.say("No wearer's records are due for review.");
        return Vec::new();
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
            Some((label, newest))
        })
        .collect();
    app.choose(
        "Due for review, the longest due first. Nothing is erased by itself: Enter opens the newest job; \
         rimbook erase NUMBER on the command line erases.",
        offered,
        Whose,
    );
    Vec::new()
}

/// Whose records are looked at, by the number of the wearer's newest job.
#[derive(Debug)]
struct Whose;

impl ChoiceAsker for Whose {
    type Answer = String;

    fn answered(self, _app: &mut App, newest: String) -> Vec<Effect> {
        vec![Effect::Open(newest)]
    }
}
