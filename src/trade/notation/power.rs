//! Step 6: one written power; and the whole degrees of an axis.
//!
//! For one number the order of checks is form, decimal point, step, sign, range.

use super::error::{ErrorKind, Issues};
use super::number::{Number, Sign, whole_number};
use super::reading::Eighths;
use super::token::Token;

/// Which power a number is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Power {
    /// The sphere.
    Sphere,
    /// The cylinder.
    Cylinder,
    /// An addition, near or intermediate.
    Addition,
}

impl Power {
    /// The largest size that is read, in dioptres, and the refusal of a larger one.
    fn limit(self) -> (i32, ErrorKind) {
        match self {
            Self::Sphere => (40, ErrorKind::SphereOutOfRange),
            Self::Cylinder => (20, ErrorKind::CylinderOutOfRange),
            Self::Addition => (10, ErrorKind::AdditionOutOfRange),
        }
    }
}

/// Returns the power of a number; notes an issue where it is no power.
pub(super) fn power(
    token: &Token,
    number: &Number,
    which: Power,
    issues: &mut Issues,
) -> Option<Eighths> {
    match value(number, which) {
        Ok(eighths) => Some(eighths),
        Err(kind) => {
            issues.add_in(6, kind, token.at, &token.text);
            None
        }
    }
}

fn value(number: &Number, which: Power) -> Result<Eighths, ErrorKind> {
    sign_form(number)?;
    let (whole, fraction) = number.parts().ok_or(ErrorKind::MalformedNumber)?;
    if !number.has_point() && whole.len() > 1 {
        return Err(ErrorKind::MissingDecimalPoint);
    }
    let size =
        whole_number(whole) * 8 + eighths_after_point(fraction).ok_or(ErrorKind::PowerNotOnStep)?;
    let minus = match (number.sign, which) {
        _ if size == 0 => false,
        (Sign::None, Power::Sphere | Power::Cylinder) => return Err(ErrorKind::MissingSign),
        (Sign::Minus, Power::Addition) => return Err(ErrorKind::NegativeAddition),
        (sign, _) => sign == Sign::Minus,
    };
    let (most, refusal) = which.limit();
    if size > most * 8 {
        return Err(refusal);
    }
    i16::try_from(if minus { -size } else { size })
        .map(Eighths)
        .map_err(|_| refusal)
}

/// Refuses signs that cannot be read as one.
pub(super) fn sign_form(number: &Number) -> Result<(), ErrorKind> {
    match number.sign {
        Sign::Many => Err(ErrorKind::DoubleSign),
        Sign::Doubtful | Sign::Apart { .. } => Err(ErrorKind::AmbiguousSign),
        Sign::None | Sign::Plus | Sign::Minus => Ok(()),
    }
}

/// The eighths that the figures after a point mean. The third figure of an eighth may be left off
/// or rounded up (.12 and .13 are .125); any other shortening is refused, since .2 and .7 may be
/// halves of .25 and .75 cut off.
fn eighths_after_point(figures: &str) -> Option<i32> {
    Some(match figures {
        "12" | "13" => 1,
        "37" | "38" => 3,
        "62" | "63" => 5,
        "87" | "88" => 7,
        exact => match exact.trim_end_matches('0') {
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

/// Returns the axis of a number, 0 included; notes an issue where it is no axis.
pub(super) fn axis(token: &Token, number: &Number, issues: &mut Issues) -> Option<u16> {
    match degrees(number) {
        Ok(degrees) => Some(degrees),
        Err(kind) => {
            issues.add_in(7, kind, token.at, &token.text);
            None
        }
    }
}

fn degrees(number: &Number) -> Result<u16, ErrorKind> {
    sign_form(number)?;
    let (whole, _) = number.parts().ok_or(ErrorKind::MalformedNumber)?;
    if number.has_point() {
        return Err(ErrorKind::AxisNotInteger);
    }
    if number.is_signed() {
        return Err(ErrorKind::AxisSigned);
    }
    let value = whole_number(whole);
    // An axis has three figures at most: a fourth is a slip even when it is a leading 0.
    if whole.len() > 3 || value > 180 {
        return Err(ErrorKind::AxisOutOfRange);
    }
    u16::try_from(value).map_err(|_| ErrorKind::AxisOutOfRange)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sphere(sign: Sign, figures: &str) -> Result<i16, ErrorKind> {
        value(
            &Number {
                sign,
                figures: figures.to_owned(),
            },
            Power::Sphere,
        )
        .map(|e| e.0)
    }

    #[test]
    fn eighths_have_the_spellings_in_use_and_no_others() {
        for (figures, eighths) in [
            ("1.12", 9),
            ("1.13", 9),
            ("1.125", 9),
            (".37", 3),
            (".38", 3),
            (".375", 3),
            (".62", 5),
            (".63", 5),
            (".625", 5),
            (".87", 7),
            (".88", 7),
            (".875", 7),
            ("2.5", 20),
            ("2.50", 20),
            ("2.0", 16),
            ("2", 16),
        ] {
            assert_eq!(sphere(Sign::Plus, figures), Ok(eighths), "{figures}");
        }
        for figures in [
            "2.2", "2.7", "2.1", "2.30", "1.33", "1.120", "1.124", "1.3", "1.8",
        ] {
            assert_eq!(
                sphere(Sign::Plus, figures),
                Err(ErrorKind::PowerNotOnStep),
                "{figures}"
            );
        }
    }

    #[test]
    fn form_comes_before_point_before_step_before_sign_before_range() {
        assert_eq!(sphere(Sign::Many, "2.2.5"), Err(ErrorKind::DoubleSign));
        assert_eq!(sphere(Sign::None, "2.2.5"), Err(ErrorKind::MalformedNumber));
        assert_eq!(
            sphere(Sign::None, "225"),
            Err(ErrorKind::MissingDecimalPoint)
        );
        assert_eq!(sphere(Sign::None, "99.30"), Err(ErrorKind::PowerNotOnStep));
        assert_eq!(sphere(Sign::None, "99.25"), Err(ErrorKind::MissingSign));
        assert_eq!(
            sphere(Sign::Minus, "40.12"),
            Err(ErrorKind::SphereOutOfRange)
        );
        assert_eq!(sphere(Sign::Minus, "40.00"), Ok(-320));
    }

    #[test]
    fn only_nothing_needs_no_sign() {
        assert_eq!(sphere(Sign::None, "0"), Ok(0));
        assert_eq!(sphere(Sign::Minus, "0.00"), Ok(0));
        assert_eq!(
            sphere(Sign::None, "00"),
            Err(ErrorKind::MissingDecimalPoint)
        );
        assert_eq!(sphere(Sign::None, "8"), Err(ErrorKind::MissingSign));
    }
}
