//! What may follow the powers of one eye, in any order: addition, prism, acuity, vertex distance.

use super::super::error::ErrorKind;
use super::super::number::{ADDITION_LIMIT, Numeral, VERTEX_LIMITS};
use super::super::prism;
use super::super::rx::Eighths;
use super::super::tokens::{Kind, Token};
use super::super::words::Word;
use super::Reader;
use crate::units::Millimetre;

impl<'a> Reader<'a> {
    pub(super) fn addition(&mut self, token: &'a Token, both: bool) {
        self.after_powers = true;
        let Some((value, numeral)) = self.value(token, (5, ErrorKind::AdditionMissing)) else {
            return;
        };
        self.skip(|k| matches!(k, Kind::Word(Word::Dioptre | Word::Sphere)));
        if self.found.addition_at.is_some() || self.found.for_both.is_some() {
            self.refuse(5, value, ErrorKind::TooManyValues);
        }
        let addition = match numeral.power(false) {
            Ok(power) if power < 0 => {
                self.refuse(6, value, ErrorKind::NegativeAddition);
                0
            }
            Ok(power) if power > ADDITION_LIMIT => {
                self.refuse(9, value, ErrorKind::AdditionOutOfRange);
                0
            }
            Ok(power) => power,
            Err(kind) => {
                self.refuse(6, value, kind);
                0
            }
        };
        if both {
            self.found.for_both = Some((token.place, Eighths(addition)));
        } else {
            self.found.addition_at = Some(token.place);
            self.found.rx.addition = Some(Eighths(addition));
        }
    }

    pub(super) fn prism(&mut self, token: &'a Token, numeral: &Numeral, named: bool) {
        self.after_powers = true;
        let rest = self.tokens.get(self.at..).unwrap_or_default();
        self.at += prism::take(
            (token, numeral),
            rest,
            named,
            &mut self.found.rx.prism,
            self.issues,
        );
    }

    pub(super) fn vertex(&mut self, token: &'a Token) {
        self.after_powers = true;
        self.skip(|k| *k == Kind::Word(Word::Distance));
        let Some((value, numeral)) = self.value(token, (5, ErrorKind::VertexMissing)) else {
            return;
        };
        self.skip(|k| *k == Kind::Word(Word::Millimetres));
        if self.found.rx.vertex_mm.is_some() {
            self.refuse(5, value, ErrorKind::TooManyValues);
        }
        match numeral.thousandths() {
            Ok(size) if VERTEX_LIMITS.contains(&size) && !numeral.is_signed() => {
                self.found.rx.vertex_mm = Some(Millimetre::from_thousandths(size));
            }
            Ok(_) => self.refuse(9, value, ErrorKind::VertexOutOfRange),
            Err(kind) => self.refuse(9, value, kind),
        }
    }

    pub(super) fn acuity(&mut self, token: &Token) {
        self.after_powers = true;
        if self.found.rx.acuity.replace(token.text.clone()).is_some() {
            self.refuse(5, token, ErrorKind::TooManyValues);
        }
    }

    pub(super) fn acuity_word(&mut self, token: &'a Token) {
        self.after_powers = true;
        self.skip(|k| *k == Kind::Colon);
        match self.tokens.get(self.at) {
            Some(next) if next.kind == Kind::Acuity => {}
            Some(next) if next.kind == Kind::Unknown => {
                self.at += 1;
                self.refuse(5, next, ErrorKind::UnexpectedText);
            }
            _ => self.refuse(5, token, ErrorKind::AcuityMissing),
        }
    }
}
