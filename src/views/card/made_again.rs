//! What the record lacks for the pair to be made again, in words.

use super::card_line::{CardLine, Emphasis};
use crate::job::{Job, Stage};
use crate::judge::derive::remade::lacks_in_words;

/// Returns what is missing for the pair to be made again from the record, as a sentence; `None` where
/// nothing is.
pub fn made_again(job: &Job) -> Option<String> {
    lacks_in_words(job).map(|words| format!("to be made again the record lacks: {words}"))
}

/// Returns the same as a line of the card, for a pair that was ordered: until then the gate names what
/// is missing.
pub(crate) fn made_again_line(job: &Job, width: usize) -> Option<CardLine> {
    if matches!(job.stage(), Stage::Measured | Stage::Cancelled) {
        return None;
    }
    let words = lacks_in_words(job)?;
    let value = format!("to be made again: {words}");
    Some(CardLine::new("lacks", &value, Emphasis::Plain, width))
}
