//! The names of sphere and cylinder before their figures: `Sph -2.25 Cyl -0.75 Axis 90`.

use super::cursor::Cursor;
use super::token::{Token, TokenKind};
use super::word::Word;

/// Whether the sphere's name is next, with its power after it: `Sph -2.25`, `SPH: plano`.
pub(super) fn names_sphere(cursor: &Cursor) -> bool {
    let figure = 1 + usize::from(cursor.is(1, &TokenKind::Colon));
    cursor.word(0) == Some(Word::SphereMark)
        && cursor.look(0).is_some_and(Token::is_name)
        && (cursor.number(figure).is_some()
            || cursor.is_garbled_figure(figure)
            || cursor.word(figure) == Some(Word::Plano))
}

/// Whether the cylinder's name is next, with its power after it: `Cyl -0.75`.
pub(super) fn names_cylinder(cursor: &Cursor) -> bool {
    let figure = 1 + usize::from(cursor.is(1, &TokenKind::Colon));
    cursor.word(0) == Some(Word::CylinderMark)
        && cursor.look(0).is_some_and(Token::is_name)
        && (cursor
            .number(figure)
            .is_some_and(|n| n.is_signed() || n.thousandths() == Some(0))
            || cursor.is_garbled_figure(figure))
}

/// Reads a name and the colon after it.
pub(super) fn pass_name(cursor: &mut Cursor) {
    cursor.skip(1);
    let _ = cursor.pass(&TokenKind::Colon);
}
