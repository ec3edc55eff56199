//! Additions whose figure comes before the word (`2.00 add`): turned round, so that every later
//! step meets the word first.

use super::cursor::Cursor;
use super::number::{Number, Sign};
use super::prism;
use super::token::{Token, TokenKind};
use super::word::Word;

/// Returns the pieces with every addition in the order word, figure.
pub(super) fn turned(tokens: &[Token]) -> Vec<Token> {
    let mut cursor = Cursor::new(tokens);
    let mut out: Vec<Token> = Vec::with_capacity(tokens.len());
    while let Some(token) = cursor.look(0) {
        if let Some(Group { unit, words, .. }) =
            group(&cursor).filter(|group| is_free(token, group, &out))
        {
            out.extend((unit..unit + words).filter_map(|n| cursor.look(n).cloned()));
            out.extend((0..unit).filter_map(|n| cursor.look(n).cloned()));
            cursor.skip(unit + words);
        } else {
            out.push(token.clone());
            cursor.skip(1);
        }
    }
    out
}

/// A figure with its unit, and the words of the addition after it.
struct Group {
    /// Number of pieces of the figure and its unit.
    unit: usize,
    /// Whether no mark of a sphere is among them.
    is_unmarked: bool,
    /// Number of words.
    words: usize,
    /// Whether no figure comes after the words of this addition and those of any other.
    is_last: bool,
}

/// The figure next to be read with the words after it, if those are of an addition and have no
/// figure of their own.
fn group(cursor: &Cursor) -> Option<Group> {
    let number = cursor.number(0)?;
    if !could_be_addition(number) {
        return None;
    }
    let mut unit = 1;
    let mut is_unmarked = true;
    while let Some(mark @ (Word::Dioptres | Word::SphereMark)) = cursor.word(unit) {
        is_unmarked &= mark == Word::Dioptres;
        unit += 1;
    }
    let near = usize::from(cursor.word(unit) == Some(Word::Near));
    let words = match (cursor.word(unit + near), cursor.word(unit + near + 1)) {
        (Some(Word::Add), _) => near + 1,
        // `+1.25 int add`, but `+1.25 int, add +2.50`.
        (Some(Word::Intermediate), Some(Word::Add))
            if near == 0 && !has_figure(cursor, unit + 2) =>
        {
            2
        }
        (Some(Word::Intermediate), _) if near == 0 => 1,
        _ => return None,
    };
    let own_figure = words == near + 1 && has_figure(cursor, unit + words);
    let mut after = unit + words;
    while matches!(
        cursor.word(after),
        Some(Word::Add | Word::Intermediate | Word::Near)
    ) {
        after += 1;
    }
    (!own_figure).then_some(Group {
        is_last: !has_figure(cursor, after),
        unit,
        is_unmarked,
        words,
    })
}

/// Whether a figure for the word before is `ahead` places on: one that does not itself come before
/// a word, and is no prism.
fn has_figure(cursor: &Cursor, ahead: usize) -> bool {
    let ahead = ahead + usize::from(cursor.is(ahead, &TokenKind::Colon));
    if cursor.number(ahead).is_none() {
        return cursor.is_garbled_figure(ahead);
    }
    let rest = cursor.ahead(ahead);
    !prism::is_amount(&rest) && group(&rest).is_none()
}

/// A plus or nothing before it, and a point or a single digit: two digits without a point are an
/// axis.
fn could_be_addition(number: &Number) -> bool {
    number.is_signed() || number.has_point() || number.figures.len() == 1
}

/// Whether the figure is not already that of a word before it. The first figure of an eye is its
/// sphere unless it could be an addition as well; then the sphere is missing.
fn is_free(figure: &Token, group: &Group, before: &[Token]) -> bool {
    let not_sphere = group.is_unmarked
        && group.is_last
        && figure.number().is_some_and(|n| n.sign != Sign::Minus);
    let mut before = before
        .iter()
        .rev()
        .skip_while(|t| t.kind == TokenKind::Colon);
    match before.next() {
        None => not_sphere,
        Some(token) => match token.word() {
            Some(Word::Side(_) | Word::Both | Word::Eyes) => not_sphere,
            Some(
                Word::Axis
                | Word::Add
                | Word::Intermediate
                | Word::Vertex
                | Word::Distance
                | Word::Acuity
                | Word::Prism
                | Word::Base
                | Word::At
                | Word::Near
                | Word::PupilDistance,
            ) => false,
            Some(Word::SphereMark | Word::CylinderMark) => {
                !token.is_name() || before.next().is_some_and(|t| t.number().is_some())
            }
            _ => token.kind != TokenKind::AtSign && token.kind != TokenKind::PrismMark,
        },
    }
}
