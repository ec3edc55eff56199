//! What holds the next move of a job, in words, and the moves and questions themselves: of the gate and
//! of the parcel.

use super::action::Action;
use super::effect::Deed;
use super::job_view::JobView;
use super::line::Line;
use super::next::{Next, Question};
use super::question::needed;
use crate::job::{Gate, QuestionTo, Stage};
use crate::judge::gate::{Finding, Question as OpenQuestion, Severity};

/// The longest reason that is put in beforehand, characters.
const LONGEST_REASON: usize = 400;

/// How many of each severity are open, worst first, in words; for the footer of the form.
pub(crate) fn summary(findings: &[Finding]) -> String {
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

/// What an action comes to that moves a job, or asks about it.
pub(crate) fn act(job: &JobView, action: Action) -> Next {
    let number = job.open.number.clone();
    let stage = job.open.job.stage();
    match action {
        Action::Move => match stage.next_gate() {
            None => Next::complain(format!("The job is {stage}: there is no further move.")),
            Some(gate) => Next::Act(Deed::Advance {
                number,
                gate,
                revision: job.open.revision,
            }),
        },
        Action::AskPrescriber => ask_question(job, QuestionTo::Prescriber),
        Action::AskLaboratory => ask_question(job, QuestionTo::Laboratory),
        Action::Answer => match job.open.questions.as_slice() {
            [] => Next::complain("No question is open."),
            [question] => ask_answer(&number, question),
            several => {
                let offered = several
                    .iter()
                    .map(|q| (format!("{}: {}", q.of, q.text), ask_answer(&number, q)))
                    .collect();
                Next::Ask(Question::choose("Whose answer?", offered))
            }
        },
        Action::SendBack if stage.can_send_back() => {
            let reason = why_back(faults(&job.findings));
            ask_send_back(number, "", &reason)
        }
        Action::SendBack => Next::complain(format!(
            "The job is {stage}: only a pair that came from the laboratory can be sent back."
        )),
        Action::Cancel if stage.is_open() => ask("Why is the job given up?", move |text| {
            let reason = needed(text, "why it is given up")?;
            let number = number.clone();
            Ok(Deed::Cancel { number, reason })
        }),
        Action::Cancel => Next::complain(format!("The job is {stage}: it cannot be given up.")),
        Action::Recheck if stage == Stage::Collected => Next::Act(Deed::Recheck { number }),
        Action::Recheck => Next::complain("Only a collected pair is looked at again."),
        _ => Next::Pass,
    }
}

/// Asks for the question to be put to somebody, unless one waits for an answer already.
fn ask_question(job: &JobView, of: QuestionTo) -> Next {
    if let Some(first) = job.open.questions.iter().find(|q| q.of == of) {
        return Next::complain(format!(
            "A question to the {of} is open already: {}",
            first.text
        ));
    }
    let number = job.open.number.clone();
    ask(
        format!("Question to the {of}; the job is held until it is answered:"),
        move |text| {
            let text = needed(text, "what is asked")?;
            let number = number.clone();
            Ok(Deed::Ask { number, of, text })
        },
    )
}

/// Asks for the answer to an open question.
fn ask_answer(number: &str, question: &OpenQuestion) -> Next {
    let (number, of) = (number.to_owned(), question.of);
    ask(format!("{} Answer:", question.text), move |text| {
        let text = needed(text, "what was answered")?;
        let number = number.clone();
        Ok(Deed::Answer { number, of, text })
    })
}

fn ask(title: impl Into<String>, deed: impl Fn(&str) -> Result<Deed, String> + 'static) -> Next {
    ask_with(title, Line::default(), deed)
}

fn ask_with(
    title: impl Into<String>,
    line: Line,
    deed: impl Fn(&str) -> Result<Deed, String> + 'static,
) -> Next {
    let answered = move |text: &str| deed(text).map(Next::Act);
    Next::Ask(Question::text(title, line, answered))
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

/// Asks why a pair goes back; with a remark behind the question, and a reason put in beforehand.
pub(crate) fn ask_send_back(number: String, remark: &str, reason: &str) -> Next {
    ask_with(
        format!("Why does the pair go back to the laboratory?{remark}"),
        Line::of(reason),
        move |text| {
            let reason = needed(text, "why it goes back")?;
            let number = number.clone();
            Ok(Deed::SendBack { number, reason })
        },
    )
}
