//! Splitting a line into its eyes: labels decide, not order.

use super::token::{Token, tokens};
use super::{ErrorKind, NotationError, Reading, WrittenRx, characters, eye_line};
use crate::eye::{Eye, PerEye};

/// Whose part of the line follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Label {
    One(Eye),
    Both,
}

fn label(token: &Token) -> Option<Label> {
    Some(match token.word()? {
        "r" | "re" | "od" | "right" | "rt" => Label::One(Eye::Right),
        "l" | "le" | "os" | "left" | "lt" => Label::One(Eye::Left),
        "ou" | "both" => Label::Both,
        _ => return None,
    })
}

/// Reads one written prescription.
///
/// # Errors
/// [`NotationError`] with the one refusal that comes first in the order of the checks.
pub fn read(line: &str) -> Result<Reading, NotationError> {
    Ok(reading(line)?)
}

fn reading(line: &str) -> Result<Reading, ErrorKind> {
    let tokens = tokens(&characters::settle(line)?);
    let mut parts: Vec<(Option<Label>, Vec<Token>)> = vec![(None, Vec::new())];
    let mut tokens = tokens.into_iter().peekable();
    while let Some(token) = tokens.next() {
        if let Some(found) = label(&token) {
            while tokens
                .peek()
                .is_some_and(|t| matches!(t.word(), Some("eye" | "eyes")) || t.is_mark(':'))
            {
                tokens.next();
            }
            parts.push((Some(found), Vec::new()));
        } else if let Some((_, part)) = parts.last_mut() {
            part.push(token);
        }
    }
    let before = parts.remove(0).1;
    let stray = before.iter().any(|t| !t.is_separator());
    match (stray, parts.as_slice()) {
        (_, []) => Ok(Reading::One {
            eye: None,
            rx: eye_line::read(&before)?,
        }),
        // Words such as "near" before a label say what the whole line is.
        (true, _) => Err(match eye_line::read(&before) {
            Err(kind @ (ErrorKind::NearRx | ErrorKind::Balance | ErrorKind::PdNotPart)) => kind,
            _ => ErrorKind::EyeLabelMissing,
        }),
        (false, labelled) => by_label(labelled),
    }
}

fn by_label(parts: &[(Option<Label>, Vec<Token>)]) -> Result<Reading, ErrorKind> {
    let mut eyes: PerEye<Option<&[Token]>> = PerEye::default();
    let mut both: Option<&[Token]> = None;
    let mut last = None;
    for (label, part) in parts {
        if let Some(Label::One(eye)) = label {
            if eyes.get(*eye).is_some() {
                return Err(ErrorKind::DuplicateEye);
            }
            *eyes.get_mut(*eye) = Some(part);
            last = Some(*eye);
        } else {
            if both.is_some() {
                return Err(ErrorKind::DuplicateEye);
            }
            both = Some(part);
        }
    }
    match (eyes.right, eyes.left, both) {
        (None, None, Some(part)) => {
            let rx = eye_line::read(part)?;
            Ok(Reading::Two(PerEye {
                right: rx.clone(),
                left: rx,
            }))
        }
        (Some(right), Some(left), both) => two(PerEye { right, left }, last, both),
        (Some(part), None, None) => one(Eye::Right, part),
        (None, Some(part), None) => one(Eye::Left, part),
        _ => Err(ErrorKind::EyeLabelMissing),
    }
}

fn one(eye: Eye, part: &[Token]) -> Result<Reading, ErrorKind> {
    Ok(Reading::One {
        eye: Some(eye),
        rx: eye_line::read(part)?,
    })
}

/// Two eyes, and perhaps an addition said to be for both.
fn two(
    eyes: PerEye<&[Token]>,
    last: Option<Eye>,
    both: Option<&[Token]>,
) -> Result<Reading, ErrorKind> {
    let mut eyes = eyes.map(|_, part| part.to_vec());
    let is_add = |t: &Token| matches!(t.word(), Some("add" | "addition"));
    if let (Some(both), Some(last)) = (both, last) {
        // "Add +2.00 OU" and "Add OU +2.00": the addition was written into the last eye's part.
        let written = eyes.get_mut(last);
        let mut addition: Vec<Token> = match written.iter().position(is_add) {
            Some(at) => written.split_off(at),
            None => Vec::new(),
        };
        addition.extend(both.iter().cloned());
        if !addition.iter().any(is_add) {
            return Err(if addition.iter().all(Token::is_separator) {
                ErrorKind::UnexpectedText
            } else {
                ErrorKind::EyeLabelMissing
            });
        }
        eyes.right.extend(addition.iter().cloned());
        eyes.left.extend(addition);
    } else if let Some(last) = last {
        let has = |eye| eyes.get(eye).iter().any(is_add);
        if has(last) && !has(last.other()) && ends_in_addition(eyes.get(last)) {
            // The powers must be sound for the addition to be the question.
            let read = eyes.map(|_, part| eye_line::read(part));
            read.right?;
            read.left?;
            return Err(ErrorKind::AdditionScopeAmbiguous);
        }
    }
    let read: PerEye<Result<WrittenRx, ErrorKind>> = eyes.map(|_, part| eye_line::read(part));
    Ok(Reading::Two(PerEye {
        right: read.right?,
        left: read.left?,
    }))
}

/// Whether nothing but the addition's figure follows the addition.
fn ends_in_addition(part: &[Token]) -> bool {
    let at = part
        .iter()
        .position(|t| matches!(t.word(), Some("add" | "addition")));
    at.is_some_and(|at| {
        part.iter()
            .skip(at + 1)
            .filter(|t| !t.is_separator())
            .count()
            <= 1
    })
}
