//! Steps 5 and 7: sphere, cylinder and axis of one eye, in that order.

use super::cursor::Cursor;
use super::error::{ErrorKind, Issues};
use super::extras;
use super::eye_draft::Draft;
use super::names::{names_cylinder, names_sphere, pass_name};
use super::number::Number;
use super::power::{self, Power};
use super::prism;
use super::reading::Eighths;
use super::token::{Token, TokenKind};
use super::word::Word;

/// How the reading of the sphere, cylinder or axis ended.
enum Next {
    /// Go on with what may follow.
    On,
    /// The rest of this eye cannot be read with any sense.
    Stop,
}

/// The form in which the sphere was written; it decides which values may follow.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Sphere {
    /// A figure alone or with `D`.
    Bare,
    /// A figure marked as a sphere.
    Marked,
    /// Plano.
    Plano,
    /// Not there.
    Missing,
}

/// Reads one eye's pieces; `at` is the position of its label.
pub(super) fn read(tokens: &[Token], at: usize, issues: &mut Issues) -> Draft {
    let mut cursor = Cursor::new(tokens);
    let mut draft = Draft::default();
    let Some(sphere) = sphere(&mut cursor, at, &mut draft, issues) else {
        return draft;
    };
    draft.without_sphere = sphere == Sphere::Missing;
    if !draft.without_sphere
        && let Next::Stop = cylinder(&mut cursor, sphere, &mut draft, issues)
    {
        return draft;
    }
    extras::read(&mut cursor, &mut draft, issues);
    draft
}

/// Reads the sphere; `None` when the rest cannot be read.
fn sphere(
    cursor: &mut Cursor,
    at: usize,
    draft: &mut Draft,
    issues: &mut Issues,
) -> Option<Sphere> {
    let mut noted = false;
    let mut named = false;
    while let Some(token) = cursor.look(0) {
        let missing =
            |issues: &mut Issues| issues.add(ErrorKind::SphereMissing, token.at, &token.text);
        match &token.kind {
            TokenKind::Number(number) => {
                if prism::is_marked_amount(cursor)
                    || (!number.is_signed() && prism::is_amount(cursor))
                {
                    missing(issues);
                    return Some(Sphere::Missing);
                }
                cursor.skip(1);
                return Some(sphere_figure(cursor, token, number, named, draft, issues));
            }
            TokenKind::Word(Word::Plano) => {
                cursor.skip(1);
                let _ = cursor.pass_word(Word::Dioptres);
                let _ = cursor.pass_word(Word::SphereMark);
                return Some(Sphere::Plano);
            }
            TokenKind::LoneSign if blank(cursor) => {
                issues.add_in(5, ErrorKind::NoValue, token.at, &token.text);
                return None;
            }
            TokenKind::Word(Word::Nil) => {
                issues.add_in(5, ErrorKind::NoValue, token.at, &token.text);
                return None;
            }
            TokenKind::Word(Word::Balance) => {
                issues.add(ErrorKind::BalanceLensNotAPower, token.at, &token.text);
                return None;
            }
            TokenKind::AtSign => {
                issues.add(ErrorKind::AtSignIsMeridianNotAxis, token.at, &token.text);
                return None;
            }
            TokenKind::Word(Word::SphereMark) if names_sphere(cursor) => {
                named = true;
                pass_name(cursor);
            }
            TokenKind::Word(Word::CylinderMark) if names_cylinder(cursor) => {
                missing(issues);
                return Some(Sphere::Missing);
            }
            // A figure that cannot be read is in the place of the sphere, so no sphere is missing;
            // after a mark before a figure it is unknown to which figure the next marks belong.
            TokenKind::Other { figure: true }
            | TokenKind::Word(Word::SphereMark | Word::CylinderMark) => {
                issues.add(ErrorKind::UnexpectedText, token.at, &token.text);
                return None;
            }
            TokenKind::Fraction
            | TokenKind::PrismMark
            | TokenKind::Word(
                Word::Axis
                | Word::Add
                | Word::Intermediate
                | Word::Near
                | Word::Vertex
                | Word::Acuity
                | Word::Prism
                | Word::Base
                | Word::Toward(_)
                | Word::HalfCircle,
            ) => {
                missing(issues);
                return Some(Sphere::Missing);
            }
            _ => {
                issues.add(ErrorKind::UnexpectedText, token.at, &token.text);
                noted = true;
                cursor.skip(1);
            }
        }
    }
    if !noted {
        issues.add(ErrorKind::SphereMissing, at, "");
    }
    None
}

/// Whether the line holds only a minus, apart from separators.
fn blank(cursor: &Cursor) -> bool {
    let minus = cursor
        .look(0)
        .is_some_and(|t| t.text.chars().all(|c| c == '-'));
    minus
        && (1..)
            .map_while(|ahead| cursor.look(ahead))
            .all(|t| t.kind == TokenKind::Separator)
}

fn sphere_figure(
    cursor: &mut Cursor,
    token: &Token,
    number: &Number,
    named: bool,
    draft: &mut Draft,
    issues: &mut Issues,
) -> Sphere {
    let _ = cursor.pass_word(Word::Dioptres);
    if !names_cylinder(cursor) && cursor.pass_word(Word::CylinderMark) {
        issues.add(ErrorKind::SphereMissing, token.at, &token.text);
        let _ = power::power(token, number, Power::Cylinder, issues);
        if cursor.pass_word(Word::Axis) {
            let _ = axis_figure(cursor, issues);
        }
        return Sphere::Missing;
    }
    if let Some(eighths) = power::power(token, number, Power::Sphere, issues) {
        draft.rx.sphere = eighths;
    }
    let marked = !(named && names_sphere(cursor)) && cursor.pass_word(Word::SphereMark);
    if marked || named {
        Sphere::Marked
    } else {
        Sphere::Bare
    }
}

/// Reads the cylinder and its axis, if they are there.
fn cylinder(cursor: &mut Cursor, sphere: Sphere, draft: &mut Draft, issues: &mut Issues) -> Next {
    if at_sign(cursor, issues) {
        return Next::Stop;
    }
    cursor.pass_separator();
    if names_cylinder(cursor) {
        pass_name(cursor);
    }
    if cursor.word(0) == Some(Word::Axis) {
        return axis_alone(cursor, sphere, issues);
    }
    if cursor.is_garbled_figure(0) {
        if let Some(token) = cursor.take() {
            issues.add(ErrorKind::UnexpectedText, token.at, &token.text);
        }
        let _ = cylinder_mark(cursor);
        return axis(cursor, None, draft, issues);
    }
    let Some((token, number)) = cursor
        .look(0)
        .zip(cursor.number(0))
        .filter(|_| !prism::is_amount(cursor))
    else {
        return Next::On;
    };
    cursor.skip(1);
    let marked_sphere = cylinder_mark(cursor);
    if let Some(mark) = marked_sphere {
        let axis_follows = cursor.word(0) == Some(Word::Axis)
            || (cursor.is(0, &TokenKind::Separator) && cursor.word(1) == Some(Word::Axis))
            || cursor
                .number(0)
                .is_some_and(|n| !n.is_signed() && !prism::is_amount(cursor));
        if sphere == Sphere::Marked && !axis_follows {
            issues.add(ErrorKind::EyeLabelMissing, token.at, &token.text);
            return Next::Stop;
        }
        issues.add(ErrorKind::DsOnCylinder, mark.at, &mark.text);
    }
    let value = power::power(token, number, Power::Cylinder, issues);
    if at_sign(cursor, issues) {
        return Next::Stop;
    }
    axis(cursor, Some((token, value)), draft, issues)
}

/// Reads the unit after a cylinder; returns the mark when it is that of a sphere.
fn cylinder_mark<'a>(cursor: &mut Cursor<'a>) -> Option<&'a Token> {
    let _ = cursor.pass_word(Word::Dioptres);
    let _ = cursor.pass_word(Word::CylinderMark);
    if cursor.word(0) == Some(Word::SphereMark) {
        cursor.take()
    } else {
        None
    }
}

/// Refuses an axis that has no cylinder before it.
fn axis_alone(cursor: &mut Cursor, sphere: Sphere, issues: &mut Issues) -> Next {
    let Some(token) = cursor.take() else {
        return Next::On;
    };
    let kind = match sphere {
        Sphere::Marked | Sphere::Plano => ErrorKind::AxisWithoutCylinder,
        Sphere::Bare | Sphere::Missing => ErrorKind::SphereOrCylinderMissing,
    };
    issues.add(kind, token.at, &token.text);
    if at_sign(cursor, issues) {
        return Next::Stop;
    }
    let _ = axis_figure(cursor, issues);
    Next::On
}

/// Reads the axis of a cylinder; the cylinder is `None` where its figure could not be read, its
/// value where the figure gives none.
fn axis(
    cursor: &mut Cursor,
    cylinder: Option<(&Token, Option<Eighths>)>,
    draft: &mut Draft,
    issues: &mut Issues,
) -> Next {
    cursor.pass_separator();
    let marker = if cursor.word(0) == Some(Word::Axis) {
        cursor.take()
    } else {
        None
    };
    if marker.is_some() && at_sign(cursor, issues) {
        return Next::Stop;
    }
    let third = cursor
        .number(0)
        .is_some_and(|n| !prism::is_amount(cursor) && could_be_axis(n));
    if marker.is_some() || third || cursor.is_garbled_figure(0) {
        match axis_figure(cursor, issues) {
            Figure::Read { token, degrees } => {
                if let Some((_, Some(cylinder))) = cylinder {
                    keep(token, cylinder, degrees, draft, issues);
                }
                return Next::On;
            }
            Figure::Refused => return Next::On,
            Figure::None => {}
        }
    }
    let lacking = cylinder
        .filter(|(_, value)| *value != Some(Eighths(0)))
        .map(|(token, _)| token);
    if let Some(token) = marker.or(lacking) {
        issues.add(ErrorKind::AxisMissing, token.at, &token.text);
    }
    Next::On
}

/// A third figure without a word is the axis when it is unsigned, or whole with a sign on it.
fn could_be_axis(number: &Number) -> bool {
    !number.is_signed() || !number.has_point() && number.figures.len() > 1
}

/// Checks the axis against its cylinder. A cylinder of 0 with the axis 0 is how focimeters print a
/// sphere; with any other axis it contradicts itself.
fn keep(token: &Token, cylinder: Eighths, degrees: u16, draft: &mut Draft, issues: &mut Issues) {
    match (cylinder.0, degrees) {
        (0, 0) => {}
        (0, _) => issues.add(ErrorKind::AxisWithZeroCylinder, token.at, &token.text),
        (_, 0) => issues.add(ErrorKind::AxisZeroUse180, token.at, &token.text),
        _ => {
            draft.rx.cylinder = Some(cylinder);
            draft.rx.axis_deg = Some(degrees);
        }
    }
}

/// The piece found in the place of an axis.
enum Figure<'a> {
    /// Whole degrees, 0 to 180.
    Read { token: &'a Token, degrees: u16 },
    /// A figure that was refused.
    Refused,
    /// No figure.
    None,
}

/// Reads the figure of an axis and its degree mark.
fn axis_figure<'a>(cursor: &mut Cursor<'a>, issues: &mut Issues) -> Figure<'a> {
    if cursor.is(0, &TokenKind::Colon) && cursor.number(1).is_some() {
        cursor.skip(1);
    }
    if cursor.is_garbled_figure(0) {
        if let Some(token) = cursor.take() {
            issues.add(ErrorKind::UnexpectedText, token.at, &token.text);
        }
        return Figure::Refused;
    }
    let Some((token, number)) = cursor
        .look(0)
        .zip(cursor.number(0))
        .filter(|_| !prism::is_marked_amount(cursor))
    else {
        return Figure::None;
    };
    cursor.skip(1);
    let _ = cursor.pass(&TokenKind::Degree) || cursor.pass_word(Word::Degrees);
    power::axis(token, number, issues)
        .map_or(Figure::Refused, |degrees| Figure::Read { token, degrees })
}

/// Notes an `@` where a cylinder or an axis was meant.
fn at_sign(cursor: &Cursor, issues: &mut Issues) -> bool {
    let found = cursor.look(0).filter(|t| t.kind == TokenKind::AtSign);
    if let Some(token) = found {
        issues.add(ErrorKind::AtSignIsMeridianNotAxis, token.at, &token.text);
    }
    found.is_some()
}
