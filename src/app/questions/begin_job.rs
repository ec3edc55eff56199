//! A new job: of a wearer by name, or from an earlier job (second pair, re-glaze, replacement, remake).

use crate::app::effect::{Deed, Effect, Opened};
use crate::app::line::Line;
use crate::app::question::{ChoiceAsker, TextAsker, needed};
use crate::app::selected::selected;
use crate::app::{App, Screen};
use crate::desk::OpenJob;
use crate::job::Reason;
use crate::rules::carry::refusal;

/// Returns the job in front: the one that is open, or the one that is selected once it is read.
pub(crate) fn in_front(app: &App) -> Option<&OpenJob> {
    if app.screen == Screen::Job {
        return app.job.as_ref().map(|j| &j.open);
    }
    let number = selected(app)?;
    app.card.as_deref().filter(|c| c.number == number)
}

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

/// Asks which kind.
pub(crate) fn ask(app: &mut App) -> Vec<Effect> {
    let Some(open) = in_front(app) else {
        return Vec::new();
    };
    let number = open.number.clone();
    let reasons: Vec<Reason> = kinds(open).collect();
    if reasons.is_empty() {
        let why = refusal(Reason::Remake, &open.job).unwrap_or_default();
        app.complain(format!("No other job can be begun from this one: {why}."));
        return Vec::new();
    }
    let offered = (reasons.into_iter())
        .map(|r| (said(r).to_owned(), r))
        .collect();
    app.choose(
        format!("A new job from {number}. What is it to be?"),
        offered,
        WhichKind { number },
    );
    Vec::new()
}

/// What kind of job is begun from an earlier one.
#[derive(Debug)]
struct WhichKind {
    number: String,
}

impl ChoiceAsker for WhichKind {
    type Answer = Reason;

    fn answered(self, _app: &mut App, reason: Reason) -> Vec<Effect> {
        vec![Effect::Act(Deed::BeginFrom {
            number: self.number,
            reason,
        })]
    }
}

/// Asks whose job is begun; a name may be put in beforehand.
pub(crate) fn ask_wearer(app: &mut App, name: Line) {
    app.ask_with("Name of the wearer:", name, WearersName);
}

/// The name of the wearer of a new job.
#[derive(Debug)]
struct WearersName;

impl TextAsker for WearersName {
    fn answered(&self, _app: &mut App, text: &str) -> Result<Vec<Effect>, String> {
        let wearer = needed(text, "the wearer's name")?;
        Ok(vec![Effect::Act(Deed::NewJob { wearer })])
    }
}

/// Says what a job that was just begun has taken over.
pub(crate) fn opened(app: &mut App, opened: &Opened) {
    let job = &opened.open.job;
    let (Some(from), [_]) = (&job.linked_to, opened.history.as_slice()) else {
        return;
    };
    let (carried, left) = (job.origins.len(), opened.left.len());
    app.say(format!(
        "Begun from {from}: {carried} values carried (c), {left} only shown (was …), to be taken for this pair."
    ));
}
