//! Prism: amounts without signs, each with its base; named bases or one angle.

use super::cursor::Cursor;
use super::error::{ErrorKind, Issues};
use super::eye_draft::{Draft, PrismFor};
use super::number::{Number, Sign, whole_number};
use super::power::sign_form;
use super::reading::{PrismBase, WrittenPrism};
use super::token::{Token, TokenKind};
use super::word::Word;

use crate::trade::units::PrismDioptre;

/// The largest amount that is read, in thousandths of a prism dioptre.
const MOST: i32 = 30_000;

/// The step that every check of a prism belongs to.
const STEP: u8 = 9;

/// Whether the next number is an amount of prism, judged by the mark or base that follows it.
pub(super) fn is_amount(cursor: &Cursor) -> bool {
    let Some(number) = cursor.number(0) else {
        return false;
    };
    is_marked_amount(cursor)
        || match cursor.word(1) {
            Some(Word::Toward(_) | Word::HalfCircle | Word::Base) => true,
            Some(Word::Letter) => !number.is_signed(),
            Some(Word::Dioptres) => {
                !number.is_signed()
                    && matches!(
                        cursor.word(2),
                        Some(Word::Toward(_) | Word::HalfCircle | Word::Base)
                    )
            }
            _ => false,
        }
}

/// As [`is_amount`], by a prism mark or the word alone.
pub(super) fn is_marked_amount(cursor: &Cursor) -> bool {
    let word = cursor.word(1) == Some(Word::Prism)
        && cursor.number(2).is_none()
        && !cursor.is(2, &TokenKind::Colon);
    cursor.number(0).is_some() && (cursor.is(1, &TokenKind::PrismMark) || word)
}

/// Whether a prism, or a part of one, is next.
pub(super) fn is_next(cursor: &Cursor) -> bool {
    let part = matches!(
        cursor.word(0),
        Some(Word::Prism | Word::Base | Word::Toward(_) | Word::HalfCircle)
    );
    part || cursor.is(0, &TokenKind::PrismMark) || is_amount(cursor)
}

/// Reads one amount of prism with its base, and notes an issue where either is missing.
pub(super) fn read(cursor: &mut Cursor, draft: &mut Draft, issues: &mut Issues) {
    let Some(first) = cursor.look(0) else {
        return;
    };
    if cursor.pass(&TokenKind::PrismMark) || cursor.pass_word(Word::Prism) {
        let _ = cursor.pass(&TokenKind::Colon);
    }
    if cursor.is_garbled_figure(0) {
        if let Some(token) = cursor.take() {
            issues.add(ErrorKind::UnexpectedText, token.at, &token.text);
        }
        return;
    }
    let Some((token, number)) = cursor.look(0).zip(cursor.number(0)) else {
        issues.add(ErrorKind::PrismAmountMissing, first.at, &first.text);
        pass_base(cursor);
        // An amount after its base (`BU 2`) is refused as one mistake, not two.
        if cursor.number(0).is_some_and(|n| !n.is_signed()) && !is_amount(cursor) {
            cursor.skip(1);
            let _ = cursor.pass(&TokenKind::PrismMark);
        }
        return;
    };
    cursor.skip(1);
    let mark = cursor.pass(&TokenKind::PrismMark);
    let named = cursor.pass_word(Word::Prism);
    let full = cursor.look(0).is_some_and(|t| t.text.len() > 1);
    if cursor.word(0) == Some(Word::Dioptres) && (full || !(mark || named)) {
        cursor.skip(1);
    }
    let amount = match amount(number) {
        Ok(amount) => Some(amount),
        Err(kind) => {
            issues.add_in(STEP, kind, token.at, &token.text);
            None
        }
    };
    let Some(base) = base(cursor, token, issues) else {
        return;
    };
    if draft.prism_for == PrismFor::Either {
        issues.add(ErrorKind::NearPrismAmbiguous, token.at, &token.text);
    }
    let (bases, prism) = draft.prism();
    if bases.iter().any(|other| conflict(*other, base)) {
        issues.add(ErrorKind::PrismBasesConflict, token.at, &token.text);
    }
    bases.push(base);
    if let Some(amount) = amount {
        prism.push(WrittenPrism { amount, base });
    }
}

/// Two prisms of one lens conflict along one line, and an angle conflicts with everything.
fn conflict(a: PrismBase, b: PrismBase) -> bool {
    let vertical = |base| matches!(base, PrismBase::Up | PrismBase::Down);
    let angle = |base| matches!(base, PrismBase::Angle(_));
    angle(a) || angle(b) || vertical(a) == vertical(b)
}

fn amount(number: &Number) -> Result<PrismDioptre, ErrorKind> {
    // A sign apart from its amount (`2 out + 1 up`) is a sign all the same: the base decides.
    if number.sign == Sign::Many {
        return Err(ErrorKind::DoubleSign);
    }
    let thousandths = number.thousandths().ok_or(ErrorKind::MalformedNumber)?;
    if number.is_signed() {
        return Err(ErrorKind::PrismSigned);
    }
    if thousandths > MOST {
        return Err(ErrorKind::PrismOutOfRange);
    }
    Ok(PrismDioptre::from_thousandths(thousandths))
}

/// Reads the base of the amount just read; notes an issue where it is missing.
fn base(cursor: &mut Cursor, amount: &Token, issues: &mut Issues) -> Option<PrismBase> {
    let named = cursor.pass_word(Word::Base);
    if is_half_circle(cursor) {
        issues.add(
            ErrorKind::PrismHalfCircleNotSupported,
            amount.at,
            &amount.text,
        );
        while pass_base(cursor) || cursor.pass_word(Word::And) {}
        return None;
    }
    let token = cursor.look(0);
    match token.map(|t| (&t.kind, t)) {
        Some((TokenKind::Word(Word::Toward(base)), _)) => {
            cursor.skip(1);
            Some(*base)
        }
        Some((TokenKind::Word(Word::Letter | Word::Dioptres), token)) => {
            cursor.skip(1);
            issues.add(ErrorKind::PrismBaseAmbiguous, token.at, &token.text);
            None
        }
        Some((TokenKind::AtSign | TokenKind::Word(Word::At), _)) => {
            cursor.skip(1);
            angle(cursor, amount, issues)
        }
        Some((TokenKind::Number(_), _)) if named => angle(cursor, amount, issues),
        _ => {
            issues.add(ErrorKind::PrismBaseMissing, amount.at, &amount.text);
            None
        }
    }
}

/// Whether directions are named together, or with an angle: `BU&I`, `up and in @ 37`, `BU @ 37`.
fn is_half_circle(cursor: &Cursor) -> bool {
    let direction = |ahead| match cursor.word(ahead) {
        Some(Word::Toward(_) | Word::Letter) => true,
        Some(Word::Dioptres) => cursor.look(ahead).is_some_and(|t| t.text.len() == 1),
        _ => false,
    };
    let at = |ahead| cursor.is(ahead, &TokenKind::AtSign) || cursor.word(ahead) == Some(Word::At);
    if cursor.word(0) == Some(Word::HalfCircle) {
        return true;
    }
    if at(0) && cursor.number(1).is_some() {
        let after = if cursor.is(2, &TokenKind::Degree) || cursor.word(2) == Some(Word::Degrees) {
            3
        } else {
            2
        };
        return direction(after) || cursor.word(after) == Some(Word::HalfCircle);
    }
    if !direction(0) {
        return false;
    }
    let joined = cursor.word(1) == Some(Word::And)
        || cursor.is(1, &TokenKind::Separator)
        || cursor.is(1, &TokenKind::LoneSign);
    let second = if joined { 2 } else { 1 };
    let letter = cursor.word(second) == Some(Word::Letter)
        || (joined && direction(second) && cursor.word(second) == Some(Word::Dioptres));
    at(1) || (direction(second) && (letter || at(second + 1)))
}

/// Steps over one part of a base: its word, its angle, or the word before either.
fn pass_base(cursor: &mut Cursor) -> bool {
    let joined = (cursor.is(0, &TokenKind::Separator) || cursor.is(0, &TokenKind::LoneSign))
        && matches!(
            cursor.word(1),
            Some(Word::Toward(_) | Word::Letter | Word::HalfCircle)
        );
    let part = matches!(
        cursor.word(0),
        Some(Word::Base | Word::Toward(_) | Word::HalfCircle | Word::Letter | Word::Dioptres)
    );
    if joined || part {
        cursor.skip(1);
        return true;
    }
    if cursor.pass(&TokenKind::AtSign) || cursor.pass_word(Word::At) {
        if cursor.number(0).is_some() {
            cursor.skip(1);
        }
        let _ = cursor.pass(&TokenKind::Degree) || cursor.pass_word(Word::Degrees);
        return true;
    }
    false
}

/// Reads a base angle; 360 is 0.
fn angle(cursor: &mut Cursor, amount: &Token, issues: &mut Issues) -> Option<PrismBase> {
    if cursor.is_garbled_figure(0) {
        let token = cursor.take()?;
        issues.add(ErrorKind::UnexpectedText, token.at, &token.text);
        return None;
    }
    let Some((token, number)) = cursor.look(0).zip(cursor.number(0)) else {
        issues.add(ErrorKind::PrismBaseMissing, amount.at, &amount.text);
        return None;
    };
    cursor.skip(1);
    let _ = cursor.pass(&TokenKind::Degree) || cursor.pass_word(Word::Degrees);
    match degrees(number) {
        Ok(degrees) => Some(PrismBase::Angle(degrees % 360)),
        Err(kind) => {
            issues.add_in(STEP, kind, token.at, &token.text);
            None
        }
    }
}

fn degrees(number: &Number) -> Result<u16, ErrorKind> {
    sign_form(number)?;
    let (whole, _) = number.parts().ok_or(ErrorKind::MalformedNumber)?;
    if number.has_point() {
        return Err(ErrorKind::PrismBaseAngleNotInteger);
    }
    let value = whole_number(whole);
    if number.is_signed() || whole.len() > 3 || value > 360 {
        return Err(ErrorKind::PrismBaseAngleOutOfRange);
    }
    u16::try_from(value).map_err(|_| ErrorKind::PrismBaseAngleOutOfRange)
}
