//! The ten steps, one after the other.

use crate::trade::eye::{Eye, PerEye};

use super::error::{ErrorKind, Issues, NotationError};
use super::eye_draft::Draft;
use super::eyes::{Label, Section};
use super::reading::{Assumption, Reading, WrittenRx};
use super::token::Token;
use super::{
    characters, comma, cursor::Cursor, extras, eyes, figure_first, lone_sign, one_eye, token,
};

/// Reads one line: one eye's prescription, or both with their labels.
///
/// # Errors
/// [`NotationError`] with the earliest of the ten steps that fails and, within it, the first
/// position: what is wrong and what to type instead. No value is guessed.
pub fn read(line: &str) -> Result<Reading, NotationError> {
    let line = comma::settle(characters::clean(characters::given(line)?)?)?;
    let mut issues = Issues::default();
    let mut pieces = token::cut(&line);
    lone_sign::settle(&mut pieces);
    let arranged = eyes::arrange(&figure_first::turned(&pieces), &mut issues);
    let mut drafts: Vec<(Label, Draft)> = arranged
        .sections
        .iter()
        .map(|Section { label, at, tokens }| (*label, one_eye::read(tokens, *at, &mut issues)))
        .collect();
    let assumed = lend_additions(&mut drafts, &mut issues);
    share(&arranged.shared, &mut drafts, &mut issues);
    match issues.first() {
        Some(error) => Err(error),
        None => Ok(reading(drafts, assumed)),
    }
}

/// Counts the additions that are written once, after two eyes, for both, and returns which. Where
/// the first eye has an addition of another kind the line goes eye by eye, and it is refused.
fn lend_additions(drafts: &mut [(Label, Draft)], issues: &mut Issues) -> Vec<Assumption> {
    let [(_, first), (_, second)] = drafts else {
        return Vec::new();
    };
    let near = (first.addition_at, second.addition_at);
    let intermediate = (first.intermediate_at, second.intermediate_at);
    let has_none = near.0.is_none() && intermediate.0.is_none();
    let mut assumed = Vec::new();
    for (places, assumption) in [
        (near, Assumption::AdditionForBothEyes),
        (intermediate, Assumption::IntermediateAdditionForBothEyes),
    ] {
        if let (None, Some(at)) = places {
            if has_none {
                assumed.push(assumption);
            } else {
                issues.add(ErrorKind::AdditionScopeAmbiguous, at, "");
            }
        }
    }
    if has_none {
        first.rx.addition = second.rx.addition;
        first.rx.intermediate_addition = second.rx.intermediate_addition;
    }
    assumed
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
        let (kind, piece) = match both.addition_at.or(both.intermediate_at) {
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
        if let Some(at) = both.intermediate_at {
            if draft.intermediate_at.is_some() {
                issues.add(ErrorKind::TooManyValues, at, &first.text);
            }
            draft.rx.intermediate_addition = both.rx.intermediate_addition;
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
fn reading(drafts: Vec<(Label, Draft)>, assumed: Vec<Assumption>) -> Reading {
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
    Reading::Two {
        eyes: PerEye { right, left },
        assumed,
    }
}
