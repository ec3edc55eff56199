//! Signs apart from their figures (`- 1.50`): a sign belongs to the figure after it when nothing
//! else can be meant.
//!
//! Between two figures a dash may part them, and after a word whose figure needs no sign it may
//! only lead to it; such a sign stays doubtful and is refused.

use super::number::Sign;
use super::token::{Token, TokenKind};
use super::word::Word;

/// Gives a figure the sign before it, or marks that sign as doubtful.
pub(super) fn settle(tokens: &mut [Token]) {
    for at in 0..tokens.len() {
        let (before, rest) = tokens.split_at_mut(at);
        let Some((token, after)) = rest.split_first_mut() else {
            return;
        };
        if let TokenKind::Number(number) = &mut token.kind {
            number.sign = match number.sign {
                Sign::Apart { plus } if belongs(plus, before, after) => {
                    if plus {
                        Sign::Plus
                    } else {
                        Sign::Minus
                    }
                }
                Sign::Apart { .. } => Sign::Doubtful,
                settled => settled,
            };
        }
    }
}

/// Whether the sign can only be that of the figure after it.
fn belongs(plus: bool, before: &[Token], after: &[Token]) -> bool {
    let Some(last) = before.last() else {
        return true;
    };
    match last.kind {
        TokenKind::Separator
        | TokenKind::Colon
        | TokenKind::Word(Word::Side(_) | Word::Both | Word::Eyes) => true,
        // An addition without a sign is plus, so a plus before it changes nothing; a dash might.
        TokenKind::Word(Word::Add | Word::Intermediate) => plus,
        TokenKind::Word(Word::SphereMark | Word::CylinderMark) if leads(before) => true,
        _ => plus && is_addition(after),
    }
}

/// Whether the word of an addition follows the figure.
fn is_addition(after: &[Token]) -> bool {
    after
        .iter()
        .map(Token::word)
        .find(|word| !matches!(word, Some(Word::Dioptres | Word::SphereMark | Word::Near)))
        .is_some_and(|word| matches!(word, Some(Word::Add | Word::Intermediate)))
}

/// Whether the last piece is a word before its figure (`Cyl - 0.75`) and not one after it
/// (`-2.25 sph`): no figure is before it, or one that has its own word before it.
fn leads(pieces: &[Token]) -> bool {
    let mut back = pieces.iter().rev();
    if !back.next().is_some_and(Token::is_name) {
        return false;
    }
    let mut back = back.skip_while(|t| t.word() == Some(Word::Dioptres));
    if back.next().is_none_or(|t| t.number().is_none()) {
        return true;
    }
    back.find(|t| t.kind != TokenKind::Colon)
        .is_some_and(Token::is_name)
}
