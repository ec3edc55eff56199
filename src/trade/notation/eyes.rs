//! Step 4: which values belong to which eye. Labels decide, never the order.
//!
//! Values outside a distance prescription (near powers, pupil distances) are noted here and
//! taken out, so that its figures are not mistaken for values.

use crate::trade::eye::Eye;

use super::cursor::Cursor;
use super::error::{ErrorKind, Issues};
use super::prism;
use super::token::{Token, TokenKind};
use super::word::Word;

/// The label of a section.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Label {
    /// None: the line is one prescription.
    Unnamed,
    /// One eye.
    Side(Eye),
    /// Both eyes, alike.
    Both,
}

/// The pieces that belong to one label.
pub(super) struct Section {
    /// The label.
    pub label: Label,
    /// Position of the label in the line, characters from 0.
    pub at: usize,
    /// The pieces between it and the next label.
    pub tokens: Vec<Token>,
}

/// A line divided by eyes.
pub(super) struct Arranged {
    /// The eyes, as they were written.
    pub sections: Vec<Section>,
    /// Values marked for both eyes: `add +2.00 OU`.
    pub shared: Vec<Token>,
}

/// Divides the pieces of a line by eyes.
pub(super) fn arrange(tokens: &[Token], issues: &mut Issues) -> Arranged {
    let (rest, shared) = take_shared(plain(tokens, issues));
    Arranged {
        sections: sections(rest, issues),
        shared,
    }
}

/// Joins words that belong together and removes values outside a distance prescription.
fn plain(tokens: &[Token], issues: &mut Issues) -> Vec<Token> {
    let tokens = prism_marks(tokens);
    let mut cursor = Cursor::new(&tokens);
    let mut out: Vec<Token> = Vec::with_capacity(tokens.len());
    while let Some(token) = cursor.take() {
        let last = out.last().and_then(Token::word);
        let mut kind = token.kind.clone();
        match token.word() {
            Some(Word::Near) if cursor.word(0) == Some(Word::Add) => continue,
            Some(Word::Near) if last == Some(Word::Add) && cursor.number(0).is_some() => continue,
            // A near prism keeps its word.
            Some(Word::Near) if prism::is_next(&cursor) => {}
            Some(Word::Near)
                if cursor.is(0, &TokenKind::Colon) && prism::is_next(&cursor.ahead(1)) =>
            {
                cursor.skip(1);
            }
            Some(Word::Back) if cursor.word(0) == Some(Word::Vertex) => continue,
            Some(Word::Distance) if last == Some(Word::Vertex) => continue,
            Some(Word::Eyes) if matches!(last, Some(Word::Side(_) | Word::Both)) => continue,
            Some(Word::Near) => {
                issues.add(ErrorKind::NearRxNotDistance, token.at, &token.text);
                let _ = cursor.pass(&TokenKind::Colon);
                continue;
            }
            // `int add +1.25`, `add int +1.25`
            Some(Word::Intermediate) => {
                let _ = cursor.pass_word(Word::Add);
            }
            Some(Word::Add) if cursor.word(0) == Some(Word::Intermediate) => continue,
            Some(Word::SphereMark) if is_header(token, &cursor, last) => {
                pass_header(&mut cursor);
                continue;
            }
            Some(Word::PupilDistance) => {
                // `63 PD`: its figure came before it.
                let figure = out.last().and_then(Token::number);
                if figure.is_some_and(|n| !n.is_signed()) && cursor.number(0).is_none() {
                    out.pop();
                }
                issues.add(ErrorKind::PdNotPartOfRxLine, token.at, &token.text);
                pass_pupil_distance(&mut cursor);
                continue;
            }
            // "Base left" is a direction, though one that could be read either way.
            Some(Word::Side(_)) if last == Some(Word::Base) => kind = TokenKind::Word(Word::Letter),
            // A prism with a base "for both eyes" does not say how much goes in each.
            Some(Word::Both) if matches!(last, Some(Word::Toward(_))) => {
                kind = TokenKind::Word(Word::Split);
            }
            _ => {}
        }
        out.push(Token {
            kind,
            ..token.clone()
        });
    }
    out
}

/// Returns the pieces with a prism mark for every `pd` that means one.
fn prism_marks(tokens: &[Token]) -> Vec<Token> {
    let mut cursor = Cursor::new(tokens);
    let mut out: Vec<Token> = Vec::with_capacity(tokens.len());
    while let Some(token) = cursor.take() {
        let mut token = token.clone();
        if token.word() == Some(Word::PupilDistance) && is_prism_mark(&token, &cursor, out.last()) {
            token.kind = TokenKind::PrismMark;
        }
        out.push(token);
    }
    out
}

/// Whether `pd` means prism dioptres here: it does between an amount and a base.
fn is_prism_mark(token: &Token, cursor: &Cursor, last: Option<&Token>) -> bool {
    let base = matches!(
        cursor.word(0),
        Some(
            Word::Toward(_)
                | Word::HalfCircle
                | Word::Base
                | Word::Letter
                | Word::Dioptres
                | Word::At
        )
    );
    token.text.replace('.', "").eq_ignore_ascii_case("pd")
        && last.is_some_and(|t| t.number().is_some())
        && (base || cursor.is(0, &TokenKind::AtSign))
}

/// Whether a header of columns begins, `SPH CYL AX`: the order that is read anyway.
fn is_header(token: &Token, cursor: &Cursor, last: Option<Word>) -> bool {
    let begins = matches!(last, None | Some(Word::Side(_) | Word::Both | Word::Eyes));
    let separated = usize::from(cursor.is(0, &TokenKind::Separator));
    let axis = separated + 1 + usize::from(cursor.is(separated + 1, &TokenKind::Separator));
    begins
        && token.is_name()
        && cursor.word(separated) == Some(Word::CylinderMark)
        && cursor.look(separated).is_some_and(Token::is_name)
        && cursor.word(axis) == Some(Word::Axis)
        && cursor.look(axis).is_some_and(|t| t.text.len() > 1)
}

fn pass_header(cursor: &mut Cursor) {
    while cursor.pass_word(Word::CylinderMark)
        || cursor.pass_word(Word::Axis)
        || cursor.pass_separator()
        || cursor.pass(&TokenKind::Colon)
    {}
}

fn pass_pupil_distance(cursor: &mut Cursor) {
    let plain = |cursor: &Cursor, ahead| cursor.number(ahead).is_some_and(|n| !n.is_signed());
    loop {
        let word = matches!(
            cursor.word(0),
            Some(Word::PupilDistance | Word::Distance | Word::Millimetres)
        );
        let part = cursor.is(0, &TokenKind::Separator) && plain(cursor, 1);
        if word
            || part
            || plain(cursor, 0)
            || cursor.is(0, &TokenKind::Colon)
            || cursor.is(0, &TokenKind::Fraction)
        {
            cursor.skip(1);
        } else {
            return;
        }
    }
}

/// Removes every addition, near or intermediate, and vertex distance that is marked as belonging to
/// both eyes, and returns the rest and the removed pieces. The mark is before the word, after it, or
/// after the figure.
fn take_shared(mut rest: Vec<Token>) -> (Vec<Token>, Vec<Token>) {
    let mut shared = Vec::new();
    let mut from = 0;
    while let Some(found) = rest.iter().skip(from).position(|t| {
        matches!(
            t.word(),
            Some(Word::Add | Word::Intermediate | Word::Vertex)
        )
    }) {
        let word = from + found;
        let mut cursor = Cursor::new(rest.get(word + 1..).unwrap_or_default());
        let mut marked = cursor.pass_word(Word::Both);
        let _ = cursor.pass(&TokenKind::Colon);
        let mut length = 1 + usize::from(marked);
        if cursor.number(0).is_some() {
            cursor.skip(1);
        }
        while cursor.pass_word(Word::Dioptres)
            || cursor.pass_word(Word::SphereMark)
            || cursor.pass_word(Word::Millimetres)
        {}
        let label = matches!(cursor.word(1), Some(Word::Plano))
            || cursor.number(1).is_some()
            || cursor.is(1, &TokenKind::Colon);
        if cursor.word(0) == Some(Word::Both) && !label {
            cursor.skip(1);
            marked = true;
        }
        length = length.max(rest.len() - word - cursor.remaining());
        let mut start = word;
        if let Some(before) = start.checked_sub(1) {
            let colon = usize::from(rest.get(before).is_some_and(|t| t.kind == TokenKind::Colon));
            let both = before.checked_sub(colon);
            if both.and_then(|b| rest.get(b)).and_then(Token::word) == Some(Word::Both) {
                start = both.unwrap_or(start);
                marked = true;
            }
        }
        if !marked {
            from = word + 1;
            continue;
        }
        let end = word + length;
        // A separator before it divided it from the last eye and is removed with it.
        let leading = start
            .checked_sub(1)
            .filter(|b| rest.get(*b).is_some_and(|t| t.kind == TokenKind::Separator));
        let taken = rest.drain(leading.unwrap_or(start)..end);
        shared.extend(
            taken.filter(|t| t.kind != TokenKind::Separator && t.word() != Some(Word::Both)),
        );
        from = leading.unwrap_or(start);
        while shared.first().is_some_and(|t| t.kind == TokenKind::Colon) {
            shared.remove(0);
        }
    }
    (rest, shared)
}

/// Cuts the line at its labels.
fn sections(tokens: Vec<Token>, issues: &mut Issues) -> Vec<Section> {
    let mut done: Vec<Section> = Vec::new();
    let mut open = Section {
        label: Label::Unnamed,
        at: 0,
        tokens: Vec::new(),
    };
    let mut just_labelled = false;
    for token in tokens {
        let label = match token.word() {
            Some(Word::Side(eye)) => Label::Side(eye),
            Some(Word::Both) => Label::Both,
            _ => {
                let part = matches!(token.kind, TokenKind::Colon | TokenKind::Separator);
                if !(part && just_labelled) {
                    open.tokens.push(token);
                }
                just_labelled = false;
                continue;
            }
        };
        let taken = |s: &Section| {
            s.label == label
                || (s.label != Label::Unnamed && label == Label::Both)
                || s.label == Label::Both
        };
        let repeated = taken(&open) || done.iter().any(taken);
        if repeated {
            issues.add(ErrorKind::DuplicateEye, token.at, &token.text);
        }
        // A separator before the first label separates no eyes and is surplus.
        if open.label != Label::Unnamed
            && open
                .tokens
                .last()
                .is_some_and(|t| t.kind == TokenKind::Separator)
        {
            open.tokens.pop();
        }
        done.push(std::mem::replace(
            &mut open,
            Section {
                label,
                at: token.at,
                tokens: Vec::new(),
            },
        ));
        just_labelled = true;
    }
    done.push(open);
    if done.len() > 1 {
        unlabelled(&done.remove(0), issues);
    }
    done
}

/// The text before the first label: a prescription without a label, or other text.
fn unlabelled(section: &Section, issues: &mut Issues) {
    for token in &section.tokens {
        let value = match token.kind {
            TokenKind::Number(_)
            | TokenKind::Fraction
            | TokenKind::AtSign
            | TokenKind::PrismMark => true,
            TokenKind::Word(word) => !matches!(
                word,
                Word::Distance
                    | Word::Back
                    | Word::Eyes
                    | Word::At
                    | Word::And
                    | Word::Letter
                    | Word::Split
            ),
            _ => false,
        };
        let kind = if value {
            ErrorKind::EyeLabelMissing
        } else {
            ErrorKind::UnexpectedText
        };
        issues.add(kind, token.at, &token.text);
    }
}
