//! Step 9: prism, as at most one vertical and one horizontal component, or one angle.

use super::error::{ErrorKind, Issues};
use super::number::{Numeral, PRISM_LIMIT};
use super::rx::{PrismBase, WrittenPrism};
use super::tokens::{Kind, Token};
use super::words::Word;
use crate::units::PrismDioptre;

const STEP: u8 = 9;

/// Whether the number before `next` is the amount of a prism, seen from what follows it.
pub(super) fn follows_amount(next: &[Token], could_be_power: bool) -> bool {
    match next.first().map(|t| &t.kind) {
        Some(Kind::PrismMark) => true,
        Some(Kind::Word(Word::Prism)) => {
            let after = next.iter().skip(1).find(|t| t.kind != Kind::Colon);
            !after.is_some_and(|t| matches!(t.kind, Kind::Number(_)))
        }
        Some(Kind::Word(Word::Base | Word::BaseTo(_) | Word::Direction(_) | Word::TwoBases)) => {
            !could_be_power
        }
        _ => false,
    }
}

/// Reads the base after an amount and returns how many tokens of `rest` belong to the prism.
///
/// `rest` begins after the figures; `named` says whether the word "prism" came before them.
pub(super) fn take(
    amount: (&Token, &Numeral),
    rest: &[Token],
    named: bool,
    written: &mut Vec<WrittenPrism>,
    issues: &mut Issues,
) -> usize {
    let (token, numeral) = amount;
    let size = match numeral.thousandths() {
        Err(kind) => Err(kind),
        Ok(_) if numeral.is_signed() => Err(ErrorKind::PrismSigned),
        Ok(size) if size > PRISM_LIMIT => Err(ErrorKind::PrismOutOfRange),
        Ok(size) => Ok(PrismDioptre::from_thousandths(size)),
    };
    if let Err(kind) = size {
        issues.add(STEP, token.place, kind, &token.text);
    }
    let mut at = 0;
    let mut sure = named;
    while rest
        .get(at)
        .is_some_and(|t| matches!(t.kind, Kind::PrismMark | Kind::Word(Word::Prism)))
        && at < 2
    {
        sure = true;
        at += 1;
    }
    let (base, used) = base(token, rest.get(at..).unwrap_or_default(), sure, issues);
    if let (Ok(amount), Some(base)) = (size, base) {
        if conflicts(written, base) {
            let place = rest.get(at).map_or(token.place, |t| t.place);
            let text = rest.get(at).map_or("", |t| t.text.as_str());
            issues.add(STEP, place, ErrorKind::PrismBasesConflict, text);
        }
        written.push(WrittenPrism { amount, base });
    }
    at + used
}

fn conflicts(written: &[WrittenPrism], base: PrismBase) -> bool {
    let angle = |b: PrismBase| matches!(b, PrismBase::Angle(_));
    written
        .iter()
        .any(|p| angle(p.base) || angle(base) || p.base.is_vertical() == base.is_vertical())
}

/// Reads a base and returns it with the number of tokens it takes.
fn base(
    amount: &Token,
    rest: &[Token],
    sure: bool,
    issues: &mut Issues,
) -> (Option<PrismBase>, usize) {
    let mut at = 0;
    let mut spelled = false;
    if is(rest, 0, |k| *k == Kind::Word(Word::Base)) {
        spelled = true;
        at = 1;
    }
    let refuse = |issues: &mut Issues, at: usize, kind| {
        let token = rest.get(at).unwrap_or(amount);
        issues.add(STEP, token.place, kind, &token.text);
    };
    match rest.get(at).map(|t| &t.kind) {
        Some(Kind::Word(Word::BaseTo(base) | Word::Direction(base))) => {
            match half_circle(rest.get(at + 1..).unwrap_or_default()) {
                0 => (Some(*base), at + 1),
                more => {
                    refuse(issues, at, ErrorKind::PrismHalfCircleNotSupported);
                    (None, at + 1 + more)
                }
            }
        }
        Some(Kind::Word(Word::TwoBases)) => {
            refuse(issues, at, ErrorKind::PrismHalfCircleNotSupported);
            (
                None,
                at + 1 + half_circle(rest.get(at + 1..).unwrap_or_default()),
            )
        }
        Some(Kind::At) if is(rest, at + 1, |k| matches!(k, Kind::Number(_))) => {
            angle(rest, at + 1, issues)
        }
        Some(Kind::Number(_)) if spelled => angle(rest, at, issues),
        Some(Kind::Word(Word::Letter | Word::Dioptre)) if sure || spelled => {
            refuse(issues, at, ErrorKind::PrismBaseAmbiguous);
            (
                None,
                at + 1 + half_circle(rest.get(at + 1..).unwrap_or_default()),
            )
        }
        Some(Kind::At) => {
            issues.add(
                STEP,
                amount.place,
                ErrorKind::PrismBaseMissing,
                &amount.text,
            );
            (None, at + 1)
        }
        _ => {
            issues.add(
                STEP,
                amount.place,
                ErrorKind::PrismBaseMissing,
                &amount.text,
            );
            (None, at)
        }
    }
}

/// Reads the angle of a base; 360 is 0.
fn angle(rest: &[Token], at: usize, issues: &mut Issues) -> (Option<PrismBase>, usize) {
    let Some(Token {
        place,
        text,
        kind: Kind::Number(numeral),
    }) = rest.get(at)
    else {
        return (None, at);
    };
    let found = match numeral.degrees() {
        Ok(degrees) if degrees <= 360 && !numeral.is_signed() => {
            Some(PrismBase::Angle(degrees % 360))
        }
        Ok(_) => {
            issues.add(STEP, *place, ErrorKind::PrismBaseAngleOutOfRange, text);
            None
        }
        Err(_) => {
            issues.add(STEP, *place, ErrorKind::MalformedNumber, text);
            None
        }
    };
    let degree = is(rest, at + 1, |k| {
        matches!(k, Kind::Degree | Kind::Word(Word::Degrees))
    });
    (found, at + 1 + usize::from(degree))
}

/// Counts the tokens after a base that give its one amount a second direction or an angle.
fn half_circle(rest: &[Token]) -> usize {
    let mut at = 0;
    let joined = is(rest, 0, |k| {
        matches!(
            k,
            Kind::Ampersand | Kind::Separator('/') | Kind::Word(Word::And)
        )
    });
    let second = |k: &Kind| {
        matches!(
            k,
            Kind::Word(
                Word::BaseTo(_) | Word::Direction(_) | Word::Letter | Word::Base | Word::Dioptre
            )
        )
    };
    if joined && is(rest, 1, second) {
        at = 2;
        while is(rest, at, second) {
            at += 1;
        }
    }
    if is(rest, at, |k| *k == Kind::At) {
        at += 1;
        if is(rest, at, |k| matches!(k, Kind::Number(_))) {
            at += 1;
        }
        if is(rest, at, |k| {
            matches!(k, Kind::Degree | Kind::Word(Word::Degrees))
        }) {
            at += 1;
        }
    }
    at
}

fn is(tokens: &[Token], at: usize, wanted: impl Fn(&Kind) -> bool) -> bool {
    tokens.get(at).is_some_and(|t| wanted(&t.kind))
}
