//! Figures: form, decimal point, step, sign, range, in that order.

use super::token::Figure;
use super::{Eighths, ErrorKind};

/// What a power is, which decides sign and range.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Power {
    Sphere,
    Cylinder,
    Addition,
}

/// The fractions that can be written, in eighths.
const FRACTIONS: [(&str, i32); 19] = [
    ("", 0),
    ("0", 0),
    ("00", 0),
    ("12", 1),
    ("13", 1),
    ("125", 1),
    ("25", 2),
    ("37", 3),
    ("38", 3),
    ("375", 3),
    ("5", 4),
    ("50", 4),
    ("62", 5),
    ("63", 5),
    ("625", 5),
    ("75", 6),
    ("87", 7),
    ("88", 7),
    ("875", 7),
];

/// The figure's whole part and fraction.
fn parts(figure: &Figure) -> Result<(&str, Option<&str>), ErrorKind> {
    if figure.signs.chars().count() > 1 {
        return Err(ErrorKind::DoubleSign);
    }
    let mut halves = figure.digits.split('.');
    let whole = halves.next().unwrap_or("");
    let fraction = halves.next();
    if halves.next().is_some() || fraction == Some("") {
        return Err(ErrorKind::MalformedNumber);
    }
    Ok((whole, fraction))
}

/// Returns the power of a figure in eighths.
pub(super) fn power(figure: &Figure, what: Power) -> Result<Eighths, ErrorKind> {
    let (whole, fraction) = parts(figure)?;
    if fraction.is_none() && whole.len() > 1 {
        return Err(ErrorKind::MissingDecimalPoint);
    }
    let fraction = fraction.unwrap_or("");
    let Some((_, eighths)) = FRACTIONS.iter().find(|(text, _)| *text == fraction) else {
        return Err(ErrorKind::PowerNotOnStep);
    };
    // Too many figures to be a number are out of every range.
    let whole: i32 = if whole.is_empty() {
        0
    } else {
        whole.parse().unwrap_or(1000)
    };
    let size = whole.min(1000) * 8 + eighths;
    let (limit, out_of_range) = match what {
        Power::Sphere => (40, ErrorKind::SphereOutOfRange),
        Power::Cylinder => (20, ErrorKind::CylinderOutOfRange),
        Power::Addition => (10, ErrorKind::AdditionOutOfRange),
    };
    match (figure.signs.as_str(), what) {
        ("", Power::Sphere | Power::Cylinder) if size != 0 => return Err(ErrorKind::MissingSign),
        ("-", Power::Addition) if size != 0 => return Err(ErrorKind::NegativeAddition),
        _ => {}
    }
    if size > limit * 8 {
        return Err(out_of_range);
    }
    let signed = if figure.signs == "-" { -size } else { size };
    Ok(Eighths(i16::try_from(signed).map_err(|_| out_of_range)?))
}

/// Returns the axis of a figure; 0 comes back as 0 for the caller to judge.
pub(super) fn axis(figure: &Figure) -> Result<u16, ErrorKind> {
    let (whole, fraction) = parts(figure)?;
    if !figure.signs.is_empty() {
        return Err(ErrorKind::AxisSigned);
    }
    if fraction.is_some() {
        return Err(ErrorKind::AxisNotInteger);
    }
    match whole.parse::<u16>() {
        Ok(axis) if axis <= 180 => Ok(axis),
        _ => Err(ErrorKind::AxisOutOfRange),
    }
}

/// Returns a plain amount: the thousandths of its unit, and whether it has a sign.
pub(super) fn amount(figure: &Figure) -> Result<i32, ErrorKind> {
    let (whole, fraction) = parts(figure)?;
    let fraction: String = format!("{:0<3}", fraction.unwrap_or(""))
        .chars()
        .take(3)
        .collect();
    let whole: i32 = if whole.is_empty() {
        0
    } else {
        whole.parse().unwrap_or(100_000)
    };
    let fraction: i32 = fraction.parse().map_err(|_| ErrorKind::MalformedNumber)?;
    Ok(whole.min(100_000) * 1000 + fraction)
}
