//! Steps 5 and 10: values that may follow the powers in any order, and surplus text.

use crate::trade::units::Millimetre;

use super::cursor::Cursor;
use super::error::{ErrorKind, Issues};
use super::eye_draft::{Draft, PrismFor};
use super::names::names_sphere;
use super::number::Number;
use super::power::{self, Power, sign_form};
use super::prism;
use super::token::{Token, TokenKind};
use super::word::Word;

/// Vertex distances that are read, in thousandths of a millimetre.
const VERTEX: std::ops::RangeInclusive<i32> = 5_000..=25_000;

/// Reads the values that may follow the powers: addition, prism, acuity, vertex distance.
pub(super) fn read(cursor: &mut Cursor, draft: &mut Draft, issues: &mut Issues) {
    while let Some(token) = cursor.look(0) {
        if prism::is_next(cursor) {
            prism::read(cursor, draft, issues);
            continue;
        }
        if !draft.without_sphere && begins_prescription(cursor) {
            issues.add(ErrorKind::EyeLabelMissing, token.at, &token.text);
            return;
        }
        if cursor.pass_separator() {
            continue;
        }
        cursor.skip(1);
        if token.word() != Some(Word::And) {
            draft.end_near_prism();
        }
        match &token.kind {
            TokenKind::Number(_) => {
                issues.add(ErrorKind::TooManyValues, token.at, &token.text);
                let _ = cursor.pass(&TokenKind::Degree) || cursor.pass_word(Word::Dioptres);
            }
            TokenKind::Fraction => acuity(token, draft, issues),
            TokenKind::AtSign => {
                issues.add(ErrorKind::AtSignIsMeridianNotAxis, token.at, &token.text);
                return;
            }
            TokenKind::Word(Word::Add) => addition(cursor, token, draft, issues),
            TokenKind::Word(Word::Intermediate) => intermediate(cursor, token, draft, issues),
            TokenKind::Word(Word::Near) if prism::is_next(cursor) => {
                draft.prism_for = PrismFor::Near;
            }
            TokenKind::Word(Word::Distance) if prism::is_next(cursor) => {
                draft.prism_for = PrismFor::Distance;
            }
            TokenKind::Word(Word::Vertex) => vertex(cursor, token, draft, issues),
            TokenKind::Word(Word::Acuity) => named_acuity(cursor, token, draft, issues),
            TokenKind::Word(Word::Balance) => {
                issues.add(ErrorKind::BalanceLensNotAPower, token.at, &token.text);
            }
            TokenKind::Word(Word::Split) if draft.has_prism() => {
                issues.add(ErrorKind::PrismSplitAmbiguous, token.at, &token.text);
            }
            TokenKind::Word(Word::And) if draft.has_prism() && prism::is_next(cursor) => {}
            _ => issues.add(ErrorKind::UnexpectedText, token.at, &token.text),
        }
    }
}

/// Whether what comes next is the sphere of another prescription: plano, or a power with the name
/// or mark of a sphere, with a second power or with an axis.
fn begins_prescription(cursor: &Cursor) -> bool {
    if cursor.word(0) == Some(Word::Plano) || names_sphere(cursor) {
        return true;
    }
    if !cursor
        .number(0)
        .is_some_and(|n| n.is_signed() || n.thousandths() == Some(0))
    {
        return false;
    }
    let mut next = 1;
    if cursor.word(next) == Some(Word::Dioptres) {
        next += 1;
    }
    if matches!(cursor.word(next), Some(Word::SphereMark)) {
        return true;
    }
    if cursor.is(next, &TokenKind::Separator) {
        next += 1;
    }
    cursor.word(next) == Some(Word::Axis) || cursor.number(next).is_some_and(Number::is_signed)
}

/// The figure after a word, or an issue that it is missing.
fn figure<'a>(
    cursor: &mut Cursor<'a>,
    word: &Token,
    missing: ErrorKind,
    issues: &mut Issues,
) -> Option<(&'a Token, &'a Number)> {
    let _ = cursor.pass(&TokenKind::Colon);
    if cursor.is_garbled_figure(0) {
        let token = cursor.take()?;
        issues.add(ErrorKind::UnexpectedText, token.at, &token.text);
        return None;
    }
    let found = cursor
        .look(0)
        .zip(cursor.number(0))
        .filter(|_| !prism::is_marked_amount(cursor));
    if found.is_some() {
        cursor.skip(1);
    } else {
        issues.add(missing, word.at, &word.text);
    }
    found
}

fn addition(cursor: &mut Cursor, word: &Token, draft: &mut Draft, issues: &mut Issues) {
    let found = figure(cursor, word, ErrorKind::AdditionMissing, issues);
    let _ = cursor.pass_word(Word::Dioptres) || cursor.pass_word(Word::SphereMark);
    if draft.addition_at.is_some() {
        issues.add(ErrorKind::TooManyValues, word.at, &word.text);
    }
    draft.addition_at = Some(word.at);
    if let Some((token, number)) = found {
        draft.rx.addition = power::power(token, number, Power::Addition, issues);
    }
}

fn intermediate(cursor: &mut Cursor, word: &Token, draft: &mut Draft, issues: &mut Issues) {
    let found = figure(cursor, word, ErrorKind::IntermediateAdditionMissing, issues);
    let _ = cursor.pass_word(Word::Dioptres) || cursor.pass_word(Word::SphereMark);
    if draft.intermediate_at.is_some() {
        issues.add(ErrorKind::TooManyValues, word.at, &word.text);
    }
    draft.intermediate_at = Some(word.at);
    if let Some((token, number)) = found {
        draft.rx.intermediate_addition = power::power(token, number, Power::Addition, issues);
    }
}

fn vertex(cursor: &mut Cursor, word: &Token, draft: &mut Draft, issues: &mut Issues) {
    let found = figure(cursor, word, ErrorKind::VertexMissing, issues);
    let _ = cursor.pass_word(Word::Millimetres);
    if draft.vertex {
        issues.add(ErrorKind::TooManyValues, word.at, &word.text);
    }
    draft.vertex = true;
    match found.map(|(token, number)| (token, millimetres(number))) {
        Some((_, Ok(length))) => draft.rx.vertex_mm = Some(length),
        Some((token, Err(kind))) => issues.add_in(9, kind, token.at, &token.text),
        None => {}
    }
}

fn millimetres(number: &Number) -> Result<Millimetre, ErrorKind> {
    sign_form(number)?;
    let thousandths = number.thousandths().ok_or(ErrorKind::MalformedNumber)?;
    if number.is_signed() || !VERTEX.contains(&thousandths) {
        return Err(ErrorKind::VertexOutOfRange);
    }
    Ok(Millimetre::from_thousandths(thousandths))
}

fn acuity(token: &Token, draft: &mut Draft, issues: &mut Issues) {
    if draft.rx.acuity.is_some() {
        issues.add(ErrorKind::TooManyValues, token.at, &token.text);
    }
    draft.rx.acuity = Some(token.text.clone());
}

/// An acuity after its word. A decimal is refused: without its chart it may be a power.
fn named_acuity(cursor: &mut Cursor, word: &Token, draft: &mut Draft, issues: &mut Issues) {
    let _ = cursor.pass(&TokenKind::Colon);
    match cursor.look(0) {
        Some(token) if token.kind == TokenKind::Fraction => {
            cursor.skip(1);
            acuity(token, draft, issues);
        }
        Some(token) if token.number().is_some() || cursor.is_garbled_figure(0) => {
            cursor.skip(1);
            issues.add(ErrorKind::UnexpectedText, token.at, &token.text);
        }
        _ => issues.add(ErrorKind::AcuityMissing, word.at, &word.text),
    }
}
