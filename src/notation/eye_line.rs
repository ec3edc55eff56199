//! One eye's part of a line: structure first, then figures, then what must go together.

use super::number::{self, Power};
use super::token::{Figure, Token};
use super::{ErrorKind, WrittenRx, prism};
use crate::units::Millimetre;

/// A power or axis as it stands.
#[derive(Debug, Clone, Default)]
struct Item {
    /// Absent for plano.
    figure: Option<Figure>,
    ds: bool,
    dc: bool,
    axis: bool,
}

/// What an eye's part holds, not yet judged.
#[derive(Debug, Default)]
struct Parts {
    items: Vec<Item>,
    addition: Option<Figure>,
    vertex: Option<Figure>,
    acuity: Option<String>,
    prisms: Vec<prism::Raw>,
    split: bool,
    /// An axis mark with nothing after it.
    bare_axis: bool,
    unknown: bool,
}

/// Reads one eye's tokens.
pub(super) fn read(tokens: &[Token]) -> Result<WrittenRx, ErrorKind> {
    let parts = structure(tokens)?;
    let (powers, axes): (Vec<&Item>, Vec<&Item>) = parts.items.iter().partition(|i| !i.axis);
    let (sphere, cylinder, axis) = roles(&parts, &powers, &axes)?;
    let mut rx = figures(&parts, sphere, cylinder)?;
    together(&parts, sphere, cylinder, axis, &mut rx)?;
    for raw in &parts.prisms {
        rx.prism.push(prism::judged(raw)?);
    }
    if parts.split {
        return Err(ErrorKind::PrismSplitAmbiguous);
    }
    if prism::conflict(&rx.prism) {
        return Err(ErrorKind::PrismBasesConflict);
    }
    if let Some(figure) = &parts.vertex {
        let mm = number::amount(figure)?;
        if !figure.signs.is_empty() || !(5_000..=25_000).contains(&mm) {
            return Err(ErrorKind::VertexOutOfRange);
        }
        rx.vertex_mm = Some(Millimetre::from_thousandths(mm));
    }
    rx.acuity.clone_from(&parts.acuity);
    if parts.unknown {
        return Err(ErrorKind::UnexpectedText);
    }
    Ok(rx)
}

/// Returns the figure after a keyword, and the place after it.
fn keyword_figure(tokens: &[Token], mut at: usize) -> (Option<Figure>, usize) {
    while tokens.get(at).is_some_and(|t| {
        t.is_separator() || t.is_mark('@') || matches!(t.word(), Some("distance" | "dist" | "at"))
    }) {
        at += 1;
    }
    match tokens.get(at) {
        Some(Token::Figure(f)) => (Some(f.clone()), at + 1),
        _ => (None, at),
    }
}

fn structure(tokens: &[Token]) -> Result<Parts, ErrorKind> {
    let mut parts = Parts::default();
    let mut next_is_axis = false;
    let mut at = 0;
    while let Some(token) = tokens.get(at) {
        if let Some((raw, after)) = prism::raw(tokens, at) {
            parts.prisms.push(raw);
            at = after;
            continue;
        }
        at += 1;
        match token {
            Token::Figure(f) => {
                parts.items.push(Item {
                    figure: Some(f.clone()),
                    axis: std::mem::take(&mut next_is_axis),
                    ..Item::default()
                });
            }
            Token::Acuity(text) => {
                if parts.acuity.replace(text.clone()).is_some() {
                    return Err(ErrorKind::TooManyValues);
                }
            }
            Token::Mark('@') => return Err(ErrorKind::AtSign),
            Token::Mark('&') if !parts.prisms.is_empty() => {}
            t if t.is_separator() => {}
            t if t.is_degree() && !parts.items.is_empty() => {}
            Token::Mark(_) => parts.unknown = true,
            Token::Word(word) => {
                at = keyword(word, tokens, at, &mut parts, &mut next_is_axis)?;
            }
        }
    }
    parts.bare_axis = next_is_axis;
    Ok(parts)
}

fn keyword(
    word: &str,
    tokens: &[Token],
    at: usize,
    parts: &mut Parts,
    next_is_axis: &mut bool,
) -> Result<usize, ErrorKind> {
    let mut at = at;
    match word {
        "plano" | "pl" | "plan" => parts.items.push(Item {
            ds: false,
            ..Item::default()
        }),
        "ds" | "sph" | "sphere" => match parts.items.last_mut() {
            Some(item) => item.ds = true,
            None => *next_is_axis = false,
        },
        "dc" | "cyl" | "cylinder" => {
            if let Some(item) = parts.items.last_mut() {
                item.dc = true;
            }
        }
        "d" if !parts.items.is_empty() => {}
        "x" | "ax" | "axis" => *next_is_axis = true,
        "add" | "addition" => {
            let (figure, after) = keyword_figure(tokens, at);
            let Some(figure) = figure else {
                return Err(ErrorKind::AdditionMissing);
            };
            if parts.addition.replace(figure).is_some() {
                return Err(ErrorKind::TooManyValues);
            }
            let unit = matches!(tokens.get(after).and_then(Token::word), Some("d" | "ds"));
            at = after + usize::from(unit);
        }
        "bvd" | "vd" | "vertex" => {
            let (figure, after) = keyword_figure(tokens, at);
            let Some(figure) = figure else {
                return Err(ErrorKind::VertexMissing);
            };
            if parts.vertex.replace(figure).is_some() {
                return Err(ErrorKind::TooManyValues);
            }
            at = after + usize::from(tokens.get(after).and_then(Token::word) == Some("mm"));
        }
        "nv" | "near" | "reading" => return Err(ErrorKind::NearRx),
        "bal" | "balance" => return Err(ErrorKind::Balance),
        "pd" => return Err(ErrorKind::PdNotPart),
        "int" | "inter" | "intermediate" => return Err(ErrorKind::IntermediateAddition),
        "split" if !parts.prisms.is_empty() => parts.split = true,
        "and" | "with" if !parts.prisms.is_empty() => {}
        "va" if matches!(tokens.get(at), Some(Token::Acuity(_))) => {}
        _ => parts.unknown = true,
    }
    Ok(at)
}

type Roles<'a> = (Option<&'a Item>, Option<&'a Item>, Option<&'a Figure>);

fn roles<'a>(
    parts: &Parts,
    powers: &[&'a Item],
    axes: &[&'a Item],
) -> Result<Roles<'a>, ErrorKind> {
    if axes.len() > 1 {
        return Err(ErrorKind::EyeLabelMissing);
    }
    let mut axis = axes.first().and_then(|i| i.figure.as_ref());
    let first = powers.first().copied();
    let second = powers.get(1).copied();
    if first.is_some_and(|i| i.ds) && second.is_some_and(|i| i.ds) {
        return Err(ErrorKind::EyeLabelMissing);
    }
    if second.is_some_and(|i| i.ds) {
        return Err(ErrorKind::DsOnCylinder);
    }
    if let Some(third) = powers.get(2) {
        let column = third.figure.as_ref().filter(|f| f.signs.is_empty());
        match (axis, column) {
            (None, Some(f)) if powers.len() == 3 => axis = Some(f),
            _ => return Err(ErrorKind::TooManyValues),
        }
    }
    let missing = |kind| {
        Err(if parts.unknown {
            ErrorKind::UnexpectedText
        } else {
            kind
        })
    };
    match (first, second) {
        (None, _) => missing(ErrorKind::SphereMissing),
        (Some(one), _) if one.dc => missing(ErrorKind::SphereMissing),
        (sphere, cylinder) => Ok((sphere, cylinder, axis)),
    }
}

fn figures(
    parts: &Parts,
    sphere: Option<&Item>,
    cylinder: Option<&Item>,
) -> Result<WrittenRx, ErrorKind> {
    let mut rx = WrittenRx::default();
    if let Some(figure) = sphere.and_then(|i| i.figure.as_ref()) {
        rx.sphere = number::power(figure, Power::Sphere)?;
    }
    if let Some(item) = cylinder {
        rx.cylinder = Some(match &item.figure {
            Some(figure) => number::power(figure, Power::Cylinder)?,
            None => return Err(ErrorKind::TooManyValues),
        });
    }
    if let Some(figure) = &parts.addition {
        rx.addition = Some(number::power(figure, Power::Addition)?);
    }
    Ok(rx)
}

fn together(
    parts: &Parts,
    sphere: Option<&Item>,
    cylinder: Option<&Item>,
    axis: Option<&Figure>,
    rx: &mut WrittenRx,
) -> Result<(), ErrorKind> {
    let missing = |kind| {
        Err(if parts.unknown {
            ErrorKind::UnexpectedText
        } else {
            kind
        })
    };
    let Some(_) = cylinder else {
        if axis.is_none() && !parts.bare_axis {
            return Ok(());
        }
        let surely_sphere = sphere.is_some_and(|i| i.ds || i.figure.is_none());
        return missing(if surely_sphere {
            ErrorKind::AxisWithoutCylinder
        } else {
            ErrorKind::SphereOrCylinderMissing
        });
    };
    let is_zero = rx.cylinder == Some(super::Eighths(0));
    let Some(figure) = axis else {
        if is_zero && !parts.bare_axis {
            rx.cylinder = None;
            return Ok(());
        }
        return missing(ErrorKind::AxisMissing);
    };
    let axis = number::axis(figure)?;
    match (is_zero, axis) {
        (true, 0) => rx.cylinder = None,
        (true, _) => return Err(ErrorKind::AxisWithZeroCylinder),
        (false, 0) => return Err(ErrorKind::AxisZero),
        (false, axis) => rx.axis_deg = Some(axis),
    }
    Ok(())
}
