//! The gate: what holds the next move, and what can be done about it.

use super::action::Action;
use super::dialog::Purpose;
use super::effect::{Deed, Effect};
use super::line::Line;
use super::{App, Screen, entry, people};
use crate::gate::faults::is_of_laboratory;
use crate::gate::{Finding, Severity};
use crate::job::{Gate, Stage};

/// The longest reason that is put in beforehand, characters.
const LONGEST_REASON: usize = 400;

/// How many of each severity are open, worst first, in words; for the footer of the form.
pub fn summary(findings: &[Finding]) -> String {
    let count = |s: Severity| {
        findings
            .iter()
            .filter(|f| f.is_open() && f.severity == s)
            .count()
    };
    let notes = findings
        .iter()
        .filter(|f| f.severity == Severity::Note)
        .count();
    let settled = findings.iter().filter(|f| f.settled.is_some()).count();
    let parts: Vec<String> = [
        (count(Severity::Stop), "stop", "stops"),
        (count(Severity::Warning), "warning", "warnings"),
        (notes, "note", "notes"),
        (settled, "accepted", "accepted"),
    ]
    .into_iter()
    .filter(|(n, ..)| *n > 0)
    .map(|(n, one, more)| format!("{n} {}", if n == 1 { one } else { more }))
    .collect();
    if parts.is_empty() {
        "nothing holds it".to_owned()
    } else {
        parts.join(", ")
    }
}

/// Does an action of the gate.
pub(crate) fn act(app: &mut App, action: Action) -> Vec<Effect> {
    let Some(job) = &app.job else {
        return Vec::new();
    };
    let number = job.open.number.clone();
    let stage = job.open.job.stage();
    let finding = job.findings.get(app.finding).cloned();
    match action {
        Action::Gate => {
            app.finding = 0;
            app.go(Screen::Gate);
        }
        Action::GoToField => {
            if let Some(f) = finding {
                if f.field.starts_with("visit.") {
                    return super::visit::act(app, Action::Visit);
                }
                if entry::go_to(app, &f.field) {
                    app.go(Screen::Job);
                } else {
                    app.complain(
                        "This finding is about the job as a whole; no single entry settles it.",
                    );
                }
            }
        }
        Action::Accept => {
            accept(app, finding.as_ref());
            // What was given a moment ago is offered as well.
            return vec![Effect::Used];
        }
        Action::Move => match stage.next_gate() {
            None => app.complain(format!("The job is {stage}: there is no further move.")),
            Some(gate) => {
                let deed = Deed::Advance {
                    number,
                    gate,
                    revision: job.open.revision,
                };
                return people::by_somebody(app, deed);
            }
        },
        Action::AskPrescriber => match &job.open.question {
            Some(q) => app.complain(format!("A question is open already: {}", q.text)),
            None => app.ask(
                "Question to the prescriber; the job is held until it is answered:",
                Purpose::Ask,
            ),
        },
        Action::Answer => match &job.open.question {
            Some(q) => {
                let title = format!("{} Answer:", q.text);
                app.ask(title, Purpose::Answer);
            }
            None => app.complain("No question is open."),
        },
        Action::SendBack if stage.can_send_back() => {
            let reason = why_back(faults(&job.findings));
            app.ask_with(
                "Why does the pair go back to the laboratory?",
                Line::of(&reason),
                Purpose::SendBack,
            );
        }
        Action::SendBack => app.complain(format!(
            "The job is {stage}: only a pair that came from the laboratory can be sent back."
        )),
        Action::Cancel if stage.is_open() => {
            app.ask("Why is the job given up?", Purpose::Cancel);
        }
        Action::Cancel => app.complain(format!("The job is {stage}: it cannot be given up.")),
        Action::Recheck if stage == Stage::Collected => {
            return people::by_somebody(app, Deed::Recheck { number });
        }
        Action::Recheck => app.complain("Only a collected pair is looked at again."),
        _ => {}
    }
    Vec::new()
}

/// What the laboratory has done wrong: what is open of its work, before the pair is passed.
pub(crate) fn faults(findings: &[Finding]) -> impl Iterator<Item = &Finding> {
    findings
        .iter()
        .filter(|f| f.is_open() && f.gate == Gate::Verified && is_of_laboratory(f.check))
}

/// The reason that is put in beforehand where a pair goes back, as the checks say it.
pub(crate) fn why_back<'a>(faults: impl Iterator<Item = &'a Finding>) -> String {
    let messages: Vec<&str> = faults.map(|f| f.message.as_str()).collect();
    messages.join("; ").chars().take(LONGEST_REASON).collect()
}

/// Whether a finding can be accepted with a reason: a warning that is open.
pub(crate) fn can_accept(finding: &Finding) -> bool {
    finding.settled.is_none() && finding.severity == Severity::Warning
}

fn accept(app: &mut App, finding: Option<&Finding>) {
    let Some(f) = finding else {
        app.complain("Nothing is selected.");
        return;
    };
    if f.settled.is_some() {
        app.say("This finding is accepted already.");
    } else if f.severity == Severity::Note {
        app.say("A note holds nothing; it needs no acceptance.");
    } else if f.severity == Severity::Stop {
        app.complain(
            "A stop cannot be accepted by anyone: change the values, or send the pair back.",
        );
    } else {
        app.ask(
            format!("{}. Why is it accepted?", f.message.trim_end_matches('.')),
            Purpose::Accept {
                check: f.check,
                eye: f.eye.word(),
            },
        );
    }
}
