//! The ten steps, one after the other.

use crate::trade::eye::{Eye, PerEye};

use super::error::{ErrorKind, Issues, NotationError};
use super::eye_draft::Draft;
use super::eyes::{Label, Section};
use super::reading::{Reading, WrittenRx};
use super::token::Token;
use super::{characters, comma, cursor::Cursor, extras, eyes, one_eye, token};

/// Reads one line: one eye's prescription, or both with their labels.
///
/// # Errors
/// [`NotationError`] with the earliest of the ten steps that fails and, within it, the first
/// position: what is wrong and what to type instead. No value is guessed.
pub fn read(line: &str) -> Result<Reading, NotationError> {
    let line = comma::settle(characters::clean(characters::given(line)?)?)?;
    let mut issues = Issues::default();
    let arranged = eyes::arrange(&token::cut(&line), &mut issues);
    let mut drafts: Vec<(Label, Draft)> = arranged
        .sections
        .iter()
        .map(|Section { label, at, tokens }| (*label, one_eye::read(tokens, *at, &mut issues)))
        .collect();
    whose_addition(&drafts, &arranged.shared, &mut issues);
    share(&arranged.shared, &mut drafts, &mut issues);
    match issues.first() {
        Some(error) => Err(error),
        None => Ok(reading(drafts)),
    }
}

/// Refuses an addition that is written once, after two eyes, without saying whose it is.
fn whose_addition(drafts: &[(Label, Draft)], shared: &[Token], issues: &mut Issues) {
    if let [(_, first), (_, second)] = drafts
        && let (None, Some(at)) = (first.addition_at, second.addition_at)
        && shared.is_empty()
    {
        issues.add(ErrorKind::AdditionScopeAmbiguous, at, "");
    }
}

/// Copies the values marked for both eyes into each eye's draft.
fn share(shared: &[Token], drafts: &mut [(Label, Draft)], issues: &mut Issues) {
    let Some(first) = shared.first() else {
        return;
    };
    let mut both = Draft::default();
    extras::read(&mut Cursor::new(shared), &mut both, issues);
    let alone = matches!(drafts, [(Label::Unnamed | Label::Side(_), _)]);
    if alone {
        let (kind, piece) = match both.addition_at {
            Some(_) => (ErrorKind::AdditionScopeAmbiguous, ""),
            None => (ErrorKind::UnexpectedText, "OU"),
        };
        issues.add(kind, first.at, piece);
    }
    for (_, draft) in drafts {
        if let Some(at) = both.addition_at {
            if draft.addition_at.is_some() {
                issues.add(ErrorKind::TooManyValues, at, &first.text);
            }
            draft.rx.addition = both.rx.addition;
        }
        if both.vertex {
            if draft.vertex {
                issues.add(ErrorKind::TooManyValues, first.at, &first.text);
            }
            draft.rx.vertex_mm = both.rx.vertex_mm;
        }
    }
}

/// Returns the reading of drafts that passed every check.
fn reading(drafts: Vec<(Label, Draft)>) -> Reading {
    let mut right = WrittenRx::default();
    let mut left = WrittenRx::default();
    let alone = drafts.len() == 1;
    for (label, draft) in drafts {
        match label {
            Label::Unnamed => {
                return Reading::One {
                    eye: None,
                    rx: draft.rx,
                };
            }
            Label::Side(eye) if alone => {
                return Reading::One {
                    eye: Some(eye),
                    rx: draft.rx,
                };
            }
            Label::Side(Eye::Right) => right = draft.rx,
            Label::Side(Eye::Left) => left = draft.rx,
            Label::Both => {
                right = draft.rx.clone();
                left = draft.rx;
            }
        }
    }
    Reading::Two(PerEye { right, left })
}
