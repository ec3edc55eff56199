//! Which finding is selected, and what can be done about it.

use crate::book::desk::OpenJob;
use crate::job::{QuestionTo, Stage};
use crate::judge::gate::{Finding, Severity, recorded_remedies};
use crate::judge::rules::recorded_remedy::RecordedRemedy;
use crate::tui::action::{Action, Scope};
use crate::tui::effect::{Deed, Effect};
use crate::tui::form_rows::place_of;
use crate::tui::gating::{self, can_accept};
use crate::tui::line::Line;
use crate::tui::list::moved;
use crate::tui::news::{News, ScreenInput};
use crate::tui::next::{Next, Question};
use crate::tui::question::needed;
use crate::tui::questions::typed_names;
use crate::tui::screens::behaviour::Behaviour;
use crate::tui::seen::Seen;

/// What the screen remembers.
#[derive(Debug, Default)]
pub struct State {
    /// Place of the selected finding.
    pub selected: usize,
    /// Number of the job whose finding it is.
    number: Option<String>,
}

impl State {
    fn finding<'a>(&self, seen: Seen<'a>) -> Option<&'a Finding> {
        seen.job?.findings.get(self.selected)
    }

    fn act(&mut self, action: Action, seen: Seen<'_>) -> Next {
        let Some(job) = seen.job else {
            return Next::Pass;
        };
        if let Some(by) = action.rows() {
            self.selected = moved(self.selected, by, job.findings.len());
            return Next::Stay;
        }
        let finding = self.finding(seen);
        match action {
            Action::GoToField => match finding {
                None => Next::Stay,
                Some(f) if is_of_visit(f) => Next::Run(Action::Visit),
                Some(f) if place_of(&f.field).is_some() => Next::GoToField(f.field.clone()),
                Some(_) => Next::complain(
                    "This finding is about the job as a whole; no single entry settles it.",
                ),
            },
            // What was given a moment ago is offered as well.
            Action::Accept => accept(&job.open.number, finding).and(Next::Do(vec![Effect::Used])),
            Action::Remedy => remedy(finding, seen),
            Action::Confirm => typed_names::confirm(&job.open.number, finding, seen),
            action => gating::act(job, action),
        }
    }
}

/// The remedies of a finding that whoever acts may do, the first one first; those of a registered person
/// too while it is not said who acts.
pub(super) fn remedies_for(finding: &Finding, seen: Seen<'_>) -> Vec<RecordedRemedy> {
    let Some(job) = seen.job else {
        return Vec::new();
    };
    let rule = seen.practice.registration;
    let is_registrant = |name| seen.staff.is_registrant(name, rule);
    let may_all = seen.person.is_none_or(is_registrant);
    recorded_remedies(&job.open.job, finding, &seen.practice.thresholds)
        .into_iter()
        .filter(|r| may_all || !r.needs_registrant())
        .collect()
}

/// Records the only remedy, or asks which of several.
fn remedy(finding: Option<&Finding>, seen: Seen<'_>) -> Next {
    let (Some(finding), Some(job)) = (finding, seen.job) else {
        return Next::complain("Nothing is selected.");
    };
    let remedies = remedies_for(finding, seen);
    let Some(by) = seen.person else {
        // Who works a power out is recorded with it, so it has to be known first.
        return if remedies.is_empty() {
            no_remedy(finding)
        } else {
            Next::AskWho.and(Next::complain(
                seen.keys
                    .sentence("First say who is acting; then {remedy} does it."),
            ))
        };
    };
    let record = |r: &RecordedRemedy| {
        Next::Act(Deed::Record {
            number: job.open.number.clone(),
            section: r.section,
            change: r.change_by(by),
            // The revision that the remedy was worked out from.
            revision: job.open.revision,
            field: None,
            is_undo: false,
        })
    };
    match remedies.as_slice() {
        [] => no_remedy(finding),
        [only] => record(only),
        several => {
            let mut offered: Vec<(String, Next)> = (several.iter())
                .map(|r| (r.short.clone(), record(r)))
                .collect();
            let leave = Next::say("The job is as it was.");
            offered.push(("leave the job as it is".to_owned(), leave));
            let title = format!(
                "{}. What is ordered, with which error left?",
                finding.message.trim_end_matches('.')
            );
            Next::Ask(Question::choose(title, offered))
        }
    }
}

fn no_remedy(finding: &Finding) -> Next {
    Next::complain(if finding.settled.is_some() {
        "This finding is accepted already."
    } else {
        "Nothing that can be recorded at once settles this: its ways out are measured, asked or chosen."
    })
}

fn is_of_visit(f: &Finding) -> bool {
    f.field.starts_with("visit.")
}

fn accept(number: &str, finding: Option<&Finding>) -> Next {
    let Some(f) = finding else {
        return Next::complain("Nothing is selected.");
    };
    if f.settled.is_some() {
        return Next::say("This finding is accepted already.");
    }
    match f.severity {
        Severity::Note => Next::say("A note holds nothing; it needs no acceptance."),
        Severity::Stop => Next::complain(
            "A stop cannot be accepted by anyone: change the values, or send the pair back.",
        ),
        Severity::Warning => {
            let (number, check, eye) = (number.to_owned(), f.check.word(), f.eye.word());
            let accepted = move |text: &str| {
                Ok(Next::Act(Deed::Accept {
                    number: number.clone(),
                    check,
                    eye,
                    reason: needed(text, "why it is accepted")?,
                }))
            };
            let title = format!("{}. Why is it accepted?", f.message.trim_end_matches('.'));
            let question = Question::text(title, Line::default(), accepted);
            Next::Ask(question.offering_reasons_for(check))
        }
    }
}

impl Behaviour for State {
    fn scope(&self, _seen: Seen<'_>) -> Scope {
        Scope::Gate
    }

    fn update(&mut self, input: ScreenInput<'_>, seen: Seen<'_>) -> Next {
        match input {
            ScreenInput::Action(action) => self.act(action, seen),
            _ => Next::Pass,
        }
    }

    fn notice(&mut self, news: News<'_>, seen: Seen<'_>) -> Next {
        let number = seen.job.map(|j| j.open.number.clone());
        match news {
            News::Entered => (self.selected, self.number) = (0, number),
            News::BookChanged => return number.map(Effect::Open).into(),
            News::Job => {
                let last = seen.job.map_or(0, |j| j.findings.len().saturating_sub(1));
                let is_same = self.number == number;
                self.selected = if is_same { self.selected.min(last) } else { 0 };
                self.number = number;
            }
            _ => {}
        }
        Next::Stay
    }

    fn hints(&self, seen: Seen<'_>) -> Vec<Action> {
        let Some(job) = seen.job else {
            return vec![Action::Help, Action::Back];
        };
        let finding = self.finding(seen);
        let stage = job.open.job.stage();
        let questions = &job.open.questions;
        let may_ask = |of| stage.is_open() && questions.iter().all(|q| q.of != of);
        let waits = finding.is_some_and(|f| typed_names::waits_for_owner(f, seen));
        let has_remedy = finding.is_some_and(|f| !remedies_for(f, seen).is_empty());
        let can_go = finding.is_some_and(|f| is_of_visit(f) || place_of(&f.field).is_some());
        [
            (Action::Answer, !questions.is_empty()),
            (Action::GoToField, can_go),
            (Action::Remedy, has_remedy),
            (Action::Confirm, waits),
            (Action::Accept, finding.is_some_and(can_accept)),
            (Action::Move, stage.next_gate().is_some()),
            (Action::SendBack, stage.can_send_back()),
            (Action::Recheck, stage == Stage::Collected),
            (Action::Visit, job.has_visit()),
            (Action::Undo, !job.undo.is_empty()),
            (Action::Help, true),
            (Action::Back, true),
            (Action::AskPrescriber, may_ask(QuestionTo::Prescriber)),
            (Action::AskLaboratory, may_ask(QuestionTo::Laboratory)),
            (Action::Cancel, stage.is_open()),
        ]
        .into_iter()
        .filter_map(|(action, works)| works.then_some(action))
        .collect()
    }

    fn named<'a>(&'a self, seen: Seen<'a>) -> Option<&'a OpenJob> {
        seen.job.map(|j| &j.open)
    }
}
