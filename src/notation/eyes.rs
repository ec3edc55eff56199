//! Step 4: which eye each part of a line belongs to. Labels decide, never the order.

use super::error::{ErrorKind, Issues};
use super::tokens::{Kind, Token};
use super::words::Word;
use crate::eye::Eye;

/// What a label names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Label {
    /// One eye.
    One(Eye),
    /// Both eyes alike.
    Both,
}

/// The part of a line that belongs to one label.
#[derive(Debug, Clone)]
pub(super) struct Part {
    /// The label, where there is one.
    pub label: Option<Label>,
    /// Where the part begins, in characters.
    pub place: usize,
    /// Its tokens, without the label.
    pub tokens: Vec<Token>,
}

impl Part {
    /// Whether powers, or a mark for none, stand here; figures after a word that says what else
    /// they are do not count.
    fn has_value(&self) -> bool {
        let value = |t: &Token| {
            matches!(
                t.kind,
                Kind::Number(_) | Kind::Word(Word::Plano | Word::Nothing)
            )
        };
        let other = |t: &Token| {
            matches!(
                t.kind,
                Kind::Word(Word::PupilDistance | Word::Near | Word::Intermediate)
            )
        };
        self.tokens.iter().any(value) && !self.tokens.first().is_some_and(other)
    }
}

/// Splits a line into the parts of its eyes; a line without labels is one part.
pub(super) fn split(tokens: Vec<Token>, issues: &mut Issues) -> Vec<Part> {
    let mut parts = vec![Part {
        label: None,
        place: 0,
        tokens: Vec::new(),
    }];
    let mut fresh = false;
    for token in additions_for_both(tokens) {
        if let Kind::Word(Word::Label(label)) = token.kind {
            if parts
                .iter()
                .any(|p| p.label.is_some_and(|other| overlap(other, label)))
            {
                issues.add(4, token.place, ErrorKind::DuplicateEye, &token.text);
            }
            parts.push(Part {
                label: Some(label),
                place: token.place,
                tokens: Vec::new(),
            });
            fresh = true;
        } else if fresh && matches!(token.kind, Kind::Word(Word::AnEye)) {
            // "right eye" is one label.
        } else if fresh && token.kind == Kind::Colon {
            fresh = false;
        } else if let Some(part) = parts.last_mut() {
            fresh = false;
            part.tokens.push(token);
        }
    }
    let labelled = parts.len() > 1;
    if let Some(first) = parts.first()
        && labelled
    {
        if first.has_value() {
            let place = first.tokens.first().map_or(0, |t| t.place);
            issues.add(4, place, ErrorKind::EyeLabelMissing, "");
        } else if first.tokens.is_empty() {
            parts.remove(0);
        }
    }
    parts
}

fn overlap(one: Label, other: Label) -> bool {
    one == other || one == Label::Both || other == Label::Both
}

/// Joins a label for both eyes to the addition that it stands beside.
fn additions_for_both(mut tokens: Vec<Token>) -> Vec<Token> {
    let both = |t: &Token| t.kind == Kind::Word(Word::Label(Label::Both));
    let mut at = 0;
    while let Some(found) = tokens.iter().skip(at).position(both).map(|i| i + at) {
        let end = tokens
            .iter()
            .skip(found + 1)
            .take_while(|t| t.kind == Kind::Word(Word::AnEye))
            .count()
            + found
            + 1;
        match addition_beside(&tokens, found, end) {
            Some(addition) => {
                if let Some(token) = tokens.get_mut(addition) {
                    token.kind = Kind::Word(Word::AdditionBoth);
                }
                tokens.drain(found..end);
                at = found;
            }
            None => at = found + 1,
        }
    }
    tokens
}

/// Returns the place of the addition that a label for both eyes, from `label` to `end`, belongs to:
/// `OU Add +2.00`, `Add OU +2.00` or `Add +2.00 OU`.
fn addition_beside(tokens: &[Token], label: usize, end: usize) -> Option<usize> {
    let is_add = |i: &usize| {
        tokens
            .get(*i)
            .is_some_and(|t| t.kind == Kind::Word(Word::Addition))
    };
    let after_colon = end + usize::from(tokens.get(end).is_some_and(|t| t.kind == Kind::Colon));
    let mut back = label.checked_sub(1)?;
    if is_add(&after_colon) {
        return Some(after_colon);
    }
    let colon = |i: usize| tokens.get(i).is_some_and(|t| t.kind == Kind::Colon);
    if is_add(&back) || (colon(back) && back.checked_sub(1).is_some_and(|i| is_add(&i))) {
        return Some(if colon(back) { back - 1 } else { back });
    }
    let value_follows = tokens
        .get(after_colon)
        .is_some_and(|t| matches!(t.kind, Kind::Number(_) | Kind::Word(Word::Plano)));
    if value_follows {
        return None;
    }
    if tokens
        .get(back)
        .is_some_and(|t| matches!(t.kind, Kind::Word(w) if w.is_unit()))
    {
        back = back.checked_sub(1)?;
    }
    if !tokens
        .get(back)
        .is_some_and(|t| matches!(t.kind, Kind::Number(_)))
    {
        return None;
    }
    back = back.checked_sub(1)?;
    if colon(back) {
        back = back.checked_sub(1)?;
    }
    is_add(&back).then_some(back)
}
