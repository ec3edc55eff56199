//! Prism: amounts with their bases.

use super::token::{Figure, Token};
use super::{ErrorKind, number};
use crate::eye::Eye;
use crate::optics::prism::{CompoundPrism, resolve};
use crate::units::PrismDioptre;

/// Where the base lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PrismBase {
    /// Up.
    Up,
    /// Down.
    Down,
    /// In.
    In,
    /// Out.
    Out,
    /// An angle, 0 to 359 degrees, anticlockwise as seen facing the wearer.
    Angle(u16),
}

/// A prism as written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WrittenPrism {
    /// Amount.
    pub amount: PrismDioptre,
    /// Base.
    pub base: PrismBase,
}

/// Largest amount, thousandths of a prism dioptre.
const LARGEST: i32 = 30_000;

/// Returns the components base in and base up of what was written, to a hundredth.
pub(super) fn components(
    list: &[WrittenPrism],
    eye: Eye,
) -> (Option<PrismDioptre>, Option<PrismDioptre>) {
    let mut inward = None;
    let mut upward = None;
    let negated = |d: PrismDioptre| PrismDioptre::from_thousandths(-d.thousandths());
    for prism in list {
        match prism.base {
            PrismBase::Up => upward = Some(prism.amount),
            PrismBase::Down => upward = Some(negated(prism.amount)),
            PrismBase::In => inward = Some(prism.amount),
            PrismBase::Out => inward = Some(negated(prism.amount)),
            PrismBase::Angle(deg) => {
                let compound = CompoundPrism {
                    amount_delta: prism.amount.get(),
                    base_deg: f64::from(deg),
                };
                let parts = resolve(eye, compound);
                let hundredth = |d: f64| PrismDioptre::new((d * 100.0).round() / 100.0).ok();
                inward = hundredth(parts.base_in_delta);
                upward = hundredth(parts.base_up_delta);
            }
        }
    }
    (inward, upward)
}

/// A base as it stands in the line.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Base {
    Plain(PrismBase),
    Letter,
    Angle(Figure),
}

/// A prism as it stands in the line, not yet judged.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Raw {
    amount: Option<Figure>,
    base: Option<Base>,
    half_circle: bool,
}

fn plain(word: &str) -> Option<PrismBase> {
    Some(match word {
        "bu" | "up" => PrismBase::Up,
        "bd" | "down" | "dn" => PrismBase::Down,
        "bi" | "in" => PrismBase::In,
        "bo" | "out" => PrismBase::Out,
        _ => return None,
    })
}

fn letter(word: &str) -> bool {
    matches!(word, "u" | "d" | "i" | "o")
}

/// Reads a base at a place: the base, and the place after it.
fn base(tokens: &[Token], at: usize, letters: bool) -> Option<(Base, usize)> {
    let mut at = at;
    let mut said = letters;
    if tokens.get(at).and_then(Token::word) == Some("base") {
        at += 1;
        said = true;
        while tokens.get(at).is_some_and(|t| t.is_mark(':')) {
            at += 1;
        }
    }
    match tokens.get(at)? {
        Token::Word(w) => plain(w)
            .map(|b| (Base::Plain(b), at + 1))
            .or_else(|| (said && letter(w)).then_some((Base::Letter, at + 1))),
        Token::Mark('@') => match tokens.get(at + 1) {
            Some(Token::Figure(f)) => {
                let after = at + 2;
                let degree = usize::from(tokens.get(after).is_some_and(Token::is_degree));
                Some((Base::Angle(f.clone()), after + degree))
            }
            _ => None,
        },
        Token::Figure(f) if said && !letters => {
            let after = at + 1;
            let degree = usize::from(tokens.get(after).is_some_and(Token::is_degree));
            Some((Base::Angle(f.clone()), after + degree))
        }
        _ => None,
    }
}

/// Reads a prism that begins at a place, if one does: what stands there, and the place after it.
pub(super) fn raw(tokens: &[Token], at: usize) -> Option<(Raw, usize)> {
    let mut next = at;
    let named = tokens.get(next).and_then(Token::word) == Some("prism");
    if named {
        next += 1;
        while tokens.get(next).is_some_and(Token::is_separator) {
            next += 1;
        }
    }
    let amount = match tokens.get(next) {
        Some(Token::Figure(f)) => {
            next += 1;
            Some(f.clone())
        }
        _ => None,
    };
    let marked = tokens.get(next).is_some_and(Token::is_prism_mark)
        || (named && matches!(tokens.get(next).and_then(Token::word), Some("pd")));
    if marked {
        next += 1;
    }
    let found = base(tokens, next, marked || named);
    let is_prism = named
        || marked
        || found
            .as_ref()
            .is_some_and(|(b, _)| matches!(b, Base::Plain(_)))
        || tokens.get(next).and_then(Token::word) == Some("base");
    if !is_prism {
        return None;
    }
    let (base, mut after) = match found {
        Some((base, after)) => (Some(base), after),
        None => (None, next),
    };
    let half_circle = tokens.get(after).is_some_and(|t| t.is_mark('&'))
        && tokens
            .get(after + 1)
            .and_then(Token::word)
            .is_some_and(|w| plain(w).is_some() || letter(w));
    if half_circle {
        after += 2;
        if let Some((_, end)) = self::base(tokens, after, false) {
            after = end;
        }
    }
    if base.is_none() && tokens.get(after).and_then(Token::word) == Some("base") {
        after += 1;
    }
    Some((
        Raw {
            amount,
            base,
            half_circle,
        },
        after.max(at + 1),
    ))
}

/// Judges one prism.
pub(super) fn judged(raw: &Raw) -> Result<WrittenPrism, ErrorKind> {
    let Some(figure) = &raw.amount else {
        return Err(ErrorKind::PrismAmountMissing);
    };
    let amount = number::amount(figure)?;
    if !figure.signs.is_empty() {
        return Err(ErrorKind::PrismSigned);
    }
    if raw.half_circle {
        return Err(ErrorKind::PrismHalfCircle);
    }
    let base = match &raw.base {
        None => return Err(ErrorKind::PrismBaseMissing),
        Some(Base::Letter) => return Err(ErrorKind::PrismBaseAmbiguous),
        Some(Base::Plain(base)) => *base,
        Some(Base::Angle(f)) => {
            let deg = number::amount(f)?;
            if !f.signs.is_empty() || deg > 360_000 {
                return Err(ErrorKind::PrismBaseAngleOutOfRange);
            }
            if deg % 1000 != 0 {
                return Err(ErrorKind::MalformedNumber);
            }
            PrismBase::Angle(u16::try_from(deg / 1000 % 360).unwrap_or(0))
        }
    };
    if amount > LARGEST {
        return Err(ErrorKind::PrismOutOfRange);
    }
    Ok(WrittenPrism {
        amount: PrismDioptre::from_thousandths(amount),
        base,
    })
}

/// Whether the list has at most one horizontal and one vertical component, or one angle.
pub(super) fn conflict(list: &[WrittenPrism]) -> bool {
    let count = |is: fn(PrismBase) -> bool| list.iter().filter(|p| is(p.base)).count();
    let angles = count(|b| matches!(b, PrismBase::Angle(_)));
    count(|b| matches!(b, PrismBase::Up | PrismBase::Down)) > 1
        || count(|b| matches!(b, PrismBase::In | PrismBase::Out)) > 1
        || angles > 1
        || (angles == 1 && list.len() > 1)
}
