//! Steps 6 and 9: how numbers are written, and the hard limits.
//!
//! For one number the checks run in the order form, decimal point, step, sign, range.

use super::error::ErrorKind;

/// The largest sphere, in eighths (40 D).
pub(super) const SPHERE_LIMIT: i16 = 40 * 8;
/// The largest cylinder, in eighths (20 D).
pub(super) const CYLINDER_LIMIT: i16 = 20 * 8;
/// The largest addition, in eighths (10 D).
pub(super) const ADDITION_LIMIT: i16 = 10 * 8;
/// The largest prism, in thousandths of a prism dioptre (30).
pub(super) const PRISM_LIMIT: i32 = 30_000;
/// The vertex distances that are kept, in thousandths of a millimetre (5 to 25 mm).
pub(super) const VERTEX_LIMITS: std::ops::RangeInclusive<i32> = 5_000..=25_000;

/// The signs before the figures of a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sign {
    /// None.
    None,
    /// `+`.
    Plus,
    /// `-` directly before the figures.
    Minus,
    /// `-` with a space after it.
    Apart,
    /// More than one.
    Double,
    /// `+/-`.
    PlusMinus,
}

/// A number as it was typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Numeral {
    /// Its signs.
    pub sign: Sign,
    /// Its figures and points.
    pub digits: String,
}

impl Numeral {
    /// Whether any sign stands before the figures.
    pub(super) fn is_signed(&self) -> bool {
        self.sign != Sign::None
    }

    /// Whether the figures are at least two, and only figures.
    pub(super) fn is_whole_of_two_figures(&self) -> bool {
        self.digits.len() > 1 && self.digits.bytes().all(|b| b.is_ascii_digit())
    }

    /// The figures before and after the point, where the form is right.
    fn halves(&self) -> Result<(&str, Option<&str>), ErrorKind> {
        match self.digits.split_once('.') {
            None => Ok((&self.digits, None)),
            Some((_, after)) if after.is_empty() || after.contains('.') => {
                Err(ErrorKind::MalformedNumber)
            }
            Some((before, after)) => Ok((before, Some(after))),
        }
    }

    /// Returns the size and direction of a power in eighths of a dioptre, and whether a sign that
    /// it needs is missing. The range is not checked: far too large powers come back as a size
    /// above every limit.
    ///
    /// # Errors
    /// The first failing check of form, decimal point, step and sign.
    pub(super) fn power(&self, sign_needed: bool) -> Result<i16, ErrorKind> {
        match self.sign {
            Sign::Double => return Err(ErrorKind::DoubleSign),
            Sign::PlusMinus => return Err(ErrorKind::AmbiguousSign),
            Sign::Apart => return Err(ErrorKind::AmbiguousDash),
            Sign::None | Sign::Plus | Sign::Minus => {}
        }
        let (whole, fraction) = self.halves()?;
        if fraction.is_none() && whole.len() > 1 {
            return Err(ErrorKind::MissingDecimalPoint);
        }
        let part = eighths(fraction.unwrap_or("0")).ok_or(ErrorKind::PowerNotOnStep)?;
        let size = capped(whole, 999) * 8 + part;
        if sign_needed && size != 0 && self.sign == Sign::None {
            return Err(ErrorKind::MissingSign);
        }
        Ok(if self.sign == Sign::Minus {
            -size
        } else {
            size
        })
    }

    /// Returns the number in thousandths, without its sign.
    ///
    /// # Errors
    /// [`ErrorKind::MalformedNumber`], also for figures beyond the thousandths.
    pub(super) fn thousandths(&self) -> Result<i32, ErrorKind> {
        let (whole, fraction) = self.halves()?;
        let fraction = fraction.unwrap_or("").trim_end_matches('0');
        if fraction.len() > 3 {
            return Err(ErrorKind::MalformedNumber);
        }
        let part: i32 = format!("{fraction:0<3}").parse().unwrap_or(0);
        Ok(i32::from(capped(whole, 9_999)) * 1_000 + part)
    }

    /// Returns a whole number of degrees, capped at 9999, whatever its sign.
    ///
    /// # Errors
    /// [`ErrorKind::MalformedNumber`]; [`ErrorKind::AxisNotInteger`] when there is a point.
    pub(super) fn degrees(&self) -> Result<u16, ErrorKind> {
        match self.halves()? {
            (whole, None) => Ok(capped(whole, 9_999).unsigned_abs()),
            (_, Some(_)) => Err(ErrorKind::AxisNotInteger),
        }
    }

    /// Returns the axis of a cylinder, 0 to 180 degrees.
    ///
    /// # Errors
    /// The first failing check of form, sign and range.
    pub(super) fn axis(&self) -> Result<u16, ErrorKind> {
        let axis = self.degrees()?;
        if self.is_signed() {
            Err(ErrorKind::AxisSigned)
        } else if axis > 180 {
            Err(ErrorKind::AxisOutOfRange)
        } else {
            Ok(axis)
        }
    }
}

/// Returns the eighths that the figures after a point stand for.
///
/// The two-figure spellings of odd eighths count as the eighth they stand for; any other fraction
/// has to be an exact eighth.
fn eighths(fraction: &str) -> Option<i16> {
    Some(match fraction {
        "12" | "13" => 1,
        "37" | "38" => 3,
        "62" | "63" => 5,
        "87" | "88" => 7,
        other => match other.trim_end_matches('0') {
            "" => 0,
            "125" => 1,
            "25" => 2,
            "375" => 3,
            "5" => 4,
            "625" => 5,
            "75" => 6,
            "875" => 7,
            _ => return None,
        },
    })
}

/// Returns a whole number, or `cap` when it is larger.
fn capped(digits: &str, cap: i16) -> i16 {
    let digits = digits.trim_start_matches('0');
    if digits.is_empty() {
        0
    } else {
        digits.parse::<i16>().map_or(cap, |n| n.min(cap))
    }
}
