//! A new job: of a wearer by name, or from an earlier job (second pair, re-glaze, replacement, remake).

use crate::book::desk::OpenJob;
use crate::job::Reason;
use crate::judge::rules::carry::refusal;
use crate::tui::effect::{Deed, Opened};
use crate::tui::line::Line;
use crate::tui::next::{Next, Question};
use crate::tui::question::needed;

/// Returns what a kind carries, in a few words.
const fn said(reason: Reason) -> &'static str {
    match reason {
        Reason::New => "new",
        Reason::SecondPair => {
            "second pair: another frame; prescription and pupil distances carried"
        }
        Reason::Reglaze => "reglaze: new lenses in this frame; values as they stand now carried",
        Reason::Replacement => "replacement: the same pair once more, lost or broken",
        Reason::Remake => "remake: made again, in this frame",
        Reason::Recheck => "recheck: this pair looked at again, everything carried",
    }
}

/// Returns the kinds that can be begun from a job.
pub(crate) fn kinds(open: &OpenJob) -> impl Iterator<Item = Reason> {
    let all = Reason::ALL.iter().copied();
    all.filter(|r| refusal(*r, &open.job).is_none())
}

/// Asks which kind is begun from a job.
pub(crate) fn ask(open: &OpenJob) -> Next {
    let number = &open.number;
    let begin = |reason| {
        Next::Act(Deed::BeginFrom {
            number: number.clone(),
            reason,
        })
    };
    let offered: Vec<(String, Next)> = kinds(open)
        .map(|reason| (said(reason).to_owned(), begin(reason)))
        .collect();
    if offered.is_empty() {
        let why = refusal(Reason::Remake, &open.job).unwrap_or_default();
        return Next::complain(format!("No other job can be begun from this one: {why}."));
    }
    let title = format!("A new job from {number}. What is it to be?");
    Next::Ask(Question::choose(title, offered))
}

/// Asks whose job is begun; a name may be put in beforehand.
pub(crate) fn ask_wearer(name: Line) -> Next {
    Next::Ask(Question::text("Name of the wearer:", name, |text| {
        let wearer = needed(text, "the wearer's name")?;
        Ok(Next::Act(Deed::NewJob { wearer }))
    }))
}

/// Says what a job that was just begun has taken over.
pub(crate) fn opened(opened: &Opened) -> Next {
    let job = &opened.open.job;
    let (Some(from), [_]) = (&job.linked_to, opened.history.as_slice()) else {
        return Next::Stay;
    };
    let (carried, not_carried) = (job.origins.len(), opened.not_carried.len());
    Next::say(format!(
        "Begun from {from}: {carried} values carried (c), {not_carried} only shown (was …), to be taken for this pair."
    ))
}
