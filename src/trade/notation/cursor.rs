//! A place among the pieces of one eye's prescription.

use super::number::Number;
use super::token::{Token, TokenKind};
use super::word::Word;

/// Reads pieces one after the other.
pub(super) struct Cursor<'a> {
    tokens: &'a [Token],
    next: usize,
}

impl<'a> Cursor<'a> {
    /// Starts before the first piece.
    pub(super) fn new(tokens: &'a [Token]) -> Self {
        Self { tokens, next: 0 }
    }

    /// The same pieces, read on from `ahead` places on.
    pub(super) fn ahead(&self, ahead: usize) -> Self {
        Self {
            tokens: self.tokens,
            next: (self.next + ahead).min(self.tokens.len()),
        }
    }

    /// The piece `ahead` places on, 0 being the next.
    pub(super) fn look(&self, ahead: usize) -> Option<&'a Token> {
        self.tokens.get(self.next + ahead)
    }

    /// The next piece, which is thereby read.
    pub(super) fn take(&mut self) -> Option<&'a Token> {
        let token = self.look(0)?;
        self.next += 1;
        Some(token)
    }

    /// How many pieces are still to be read.
    pub(super) fn remaining(&self) -> usize {
        self.tokens.len().saturating_sub(self.next)
    }

    /// Reads so many pieces.
    pub(super) fn skip(&mut self, count: usize) {
        self.next = (self.next + count).min(self.tokens.len());
    }

    /// The word `ahead` places on.
    pub(super) fn word(&self, ahead: usize) -> Option<Word> {
        self.look(ahead).and_then(Token::word)
    }

    /// The number `ahead` places on.
    pub(super) fn number(&self, ahead: usize) -> Option<&'a Number> {
        self.look(ahead).and_then(Token::number)
    }

    /// Whether the piece `ahead` places on is of this kind.
    pub(super) fn is(&self, ahead: usize, kind: &TokenKind) -> bool {
        self.look(ahead).is_some_and(|t| t.kind == *kind)
    }

    /// Whether the piece `ahead` places on was meant as a number but cannot be read.
    pub(super) fn is_garbled_figure(&self, ahead: usize) -> bool {
        self.is(ahead, &TokenKind::Other { figure: true })
    }

    /// Reads the next piece if it is of this kind.
    pub(super) fn pass(&mut self, kind: &TokenKind) -> bool {
        let there = self.is(0, kind);
        if there {
            self.next += 1;
        }
        there
    }

    /// Reads the next piece if it is this word.
    pub(super) fn pass_word(&mut self, word: Word) -> bool {
        self.pass(&TokenKind::Word(word))
    }

    /// Reads one separator if something other than a separator follows it.
    pub(super) fn pass_separator(&mut self) -> bool {
        let parts = self.is(0, &TokenKind::Separator)
            && self.look(1).is_some_and(|t| t.kind != TokenKind::Separator);
        if parts {
            self.next += 1;
        }
        parts
    }
}
