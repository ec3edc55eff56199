//! `ask`, `answer`: questions to the prescriber and the laboratory, and their answers.

use clap::Args;

use super::book_place::BookPlace;
use super::job_report::say_stage;
use super::output::{Outcome, Output};
use crate::book::desk::DeskError;
use crate::job::QuestionTo;

#[derive(Debug, Args)]
pub(crate) struct AskArgs {
    pub(super) number: String,
    /// prescriber or laboratory
    #[arg(long, value_parser = whom, value_name = "WHOM")]
    of: QuestionTo,
    /// The question
    #[arg(long, value_name = "TEXT")]
    text: String,
    /// Who asks
    #[arg(long = "as", value_name = "STAFF")]
    by: String,
}

#[derive(Debug, Args)]
pub(crate) struct AnswerArgs {
    pub(super) number: String,
    /// prescriber or laboratory; needed where both were asked
    #[arg(long, value_parser = whom, value_name = "WHOM")]
    of: Option<QuestionTo>,
    /// The answer
    #[arg(long, value_name = "TEXT")]
    text: String,
    /// Who records it
    #[arg(long = "as", value_name = "STAFF")]
    by: String,
}

fn whom(word: &str) -> Result<QuestionTo, String> {
    let words: Vec<_> = QuestionTo::ALL.iter().map(|of| of.word()).collect();
    QuestionTo::from_word(word).ok_or_else(|| format!("one of: {}", words.join(", ")))
}

/// Asks a question about a job, which is held until the answer is recorded.
pub(crate) fn ask(
    place: &BookPlace,
    out: &mut Output,
    what: &AskArgs,
) -> Result<Outcome, DeskError> {
    let mut desk = place.open_as(&what.by)?;
    let open = desk.ask(&what.number, &what.by, what.of, &what.text)?;
    say_stage(out, &open, &format!("{} asked", what.of));
    Ok(Outcome::Done)
}

/// Records the answer to a question about a job.
pub(crate) fn answer(
    place: &BookPlace,
    out: &mut Output,
    what: &AnswerArgs,
) -> Result<Outcome, DeskError> {
    let mut desk = place.open_as(&what.by)?;
    let open = desk.answer(&what.number, &what.by, what.of, &what.text)?;
    say_stage(out, &open, "answer recorded");
    Ok(Outcome::Done)
}
