//! Questions to others that wait for their answer.

use super::values;
use crate::job::Gate;
use crate::judge::gate::check::{Check, Found, PRACTICE};
use crate::judge::gate::context::Context;
use crate::judge::gate::finding::{About, Acceptable, Severity};
use crate::judge::gate::id::CheckId;
use crate::judge::gate::work::Work;

/// A question to the prescriber or the laboratory is open.
pub(crate) static QUESTION_OPEN: Check = Check {
    id: CheckId::QuestionOpen,
    about: Work::Wearer,
    gate: Gate::Ordered,
    at_every_gate: true,
    severity: Severity::Stop,
    accept: Acceptable::Nobody,
    holds_when: "at every gate: a question to the prescriber or the laboratory waits for its answer",
    ways_out: &["record the answer"],
    source: PRACTICE,
    run: question_open,
};

fn question_open(c: &Context<'_>, found: &mut Found<'_>) {
    for question in c.around.questions {
        found.add(
            About::Job,
            "",
            format!(
                "{} asked the {} on {}: {}",
                question.by, question.of, question.on, question.text
            ),
            values! {
                "of" => question.of, "text" => question.text, "by" => question.by, "on" => question.on,
            },
            None,
        );
    }
}
