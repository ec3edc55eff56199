//! The gate: what holds the next move, and what can be done about it.

use super::action::Action;
use super::effect::{Deed, Effect};
use super::line::Line;
use super::question::{TextAsker, needed};
use super::{App, Screen, entry, shell};
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
                    return shell::open(app, Action::Visit).unwrap_or_default();
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
            accept(app, number, finding.as_ref());
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
                return vec![Effect::Act(deed)];
            }
        },
        Action::AskPrescriber => match &job.open.question {
            Some(q) => app.complain(format!("A question is open already: {}", q.text)),
            None => app.ask(
                "Question to the prescriber; the job is held until it is answered:",
                Why {
                    number,
                    what: What::Ask,
                },
            ),
        },
        Action::Answer => match &job.open.question {
            Some(q) => {
                let title = format!("{} Answer:", q.text);
                app.ask(
                    title,
                    Why {
                        number,
                        what: What::Answer,
                    },
                );
            }
            None => app.complain("No question is open."),
        },
        Action::SendBack if stage.can_send_back() => {
            let reason = why_back(faults(&job.findings));
            ask_send_back(app, number, "", &reason);
        }
        Action::SendBack => app.complain(format!(
            "The job is {stage}: only a pair that came from the laboratory can be sent back."
        )),
        Action::Cancel if stage.is_open() => {
            app.ask(
                "Why is the job given up?",
                Why {
                    number,
                    what: What::Cancel,
                },
            );
        }
        Action::Cancel => app.complain(format!("The job is {stage}: it cannot be given up.")),
        Action::Recheck if stage == Stage::Collected => {
            return vec![Effect::Act(Deed::Recheck { number })];
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
        .filter(|f| f.is_open() && f.gate == Gate::Verified && f.work.is_laboratory())
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

fn accept(app: &mut App, number: String, finding: Option<&Finding>) {
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
            Why {
                number,
                what: What::Accept {
                    check: f.check.word(),
                    eye: f.eye.word(),
                },
            },
        );
    }
}

/// Asks why a pair goes back; with a remark behind the question, and a reason put in beforehand.
pub(crate) fn ask_send_back(app: &mut App, number: String, remark: &str, reason: &str) {
    app.ask_with(
        format!("Why does the pair go back to the laboratory?{remark}"),
        Line::of(reason),
        Why {
            number,
            what: What::SendBack,
        },
    );
}

/// The words that go with what is done to a job at the gate.
#[derive(Debug)]
struct Why {
    number: String,
    what: What,
}

#[derive(Debug)]
enum What {
    Accept {
        check: &'static str,
        eye: Option<&'static str>,
    },
    SendBack,
    Cancel,
    Ask,
    Answer,
}

impl TextAsker for Why {
    fn answered(&self, _app: &mut App, text: &str) -> Result<Vec<Effect>, String> {
        let number = self.number.clone();
        let deed = match self.what {
            What::Accept { check, eye } => Deed::Accept {
                number,
                check,
                eye,
                reason: needed(text, "why it is accepted")?,
            },
            What::SendBack => Deed::SendBack {
                number,
                reason: needed(text, "why it goes back")?,
            },
            What::Cancel => Deed::Cancel {
                number,
                reason: needed(text, "why it is given up")?,
            },
            What::Ask => Deed::Ask {
                number,
                text: needed(text, "what is asked")?,
            },
            What::Answer => Deed::Answer {
                number,
                text: needed(text, "what was answered")?,
            },
        };
        Ok(vec![Effect::Act(deed)])
    }

    fn check(&self) -> Option<&'static str> {
        match self.what {
            What::Accept { check, .. } => Some(check),
            _ => None,
        }
    }
}
