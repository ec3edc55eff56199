//! Decimal numbers as they are typed, kept as whole thousandths.

/// A number as it was typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Typed {
    /// Its value in whole thousandths, with its sign.
    pub(super) thousandths: i32,
    /// Whether a sign was typed.
    pub(super) signed: bool,
    /// Digits before the decimal point.
    pub(super) whole_digits: usize,
    /// Whether there was a decimal point or comma.
    pub(super) pointed: bool,
}

/// Why a text is no number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum NotANumber {
    /// Other characters than one number's.
    Form,
    /// More than three decimals, or more digits than any quantity has.
    TooLong,
}

/// Reads one decimal number with point or comma.
pub(super) fn typed(text: &str) -> Result<Typed, NotANumber> {
    let text = text.trim();
    let (sign, body) = match text.chars().next() {
        // A word processor's minus signs and dashes are minus signs here.
        Some('-' | '\u{2212}' | '\u{2010}'..='\u{2013}' | '\u{fe63}' | '\u{ff0d}') => {
            (-1, rest(text))
        }
        Some('+' | '\u{ff0b}') => (1, rest(text)),
        _ => (0, text),
    };
    let (whole, decimals) = match body.split_once(['.', ',']) {
        Some((w, d)) => (w, Some(d)),
        None => (body, None),
    };
    let after = decimals.unwrap_or("");
    let digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
    if !digits(whole)
        || !digits(after)
        || (whole.is_empty() && after.is_empty())
        || decimals == Some("")
    {
        return Err(NotANumber::Form);
    }
    if whole.len() > 5 || after.len() > 3 {
        return Err(NotANumber::TooLong);
    }
    // At most eight digits after padding, which an i32 holds.
    let thousandths: i32 = format!("{whole}{after:0<3}")
        .parse()
        .map_err(|_| NotANumber::TooLong)?;
    Ok(Typed {
        thousandths: if sign < 0 { -thousandths } else { thousandths },
        signed: sign != 0,
        whole_digits: whole.len(),
        pointed: decimals.is_some(),
    })
}

fn rest(text: &str) -> &str {
    let mut chars = text.chars();
    chars.next();
    chars.as_str().trim_start()
}

/// Returns thousandths as a decimal number of at least `decimals` places and no idle zeros after.
pub(super) fn plain(thousandths: i32, decimals: usize) -> String {
    let size = thousandths.unsigned_abs();
    let mut text = format!("{}.{:03}", size / 1000, size % 1000);
    let mut idle = 3usize.saturating_sub(decimals);
    while idle > 0 && text.ends_with('0') {
        text.pop();
        idle -= 1;
    }
    if text.ends_with('.') {
        text.pop();
    }
    if thousandths < 0 {
        format!("-{text}")
    } else {
        text
    }
}

/// Returns thousandths with their sign, as powers are written; none for zero.
pub(super) fn signed(thousandths: i32) -> String {
    let plus = if thousandths > 0 { "+" } else { "" };
    format!("{plus}{}", plain(thousandths, 2))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn point_and_comma_are_the_same_and_nothing_else_is_a_number() {
        assert_eq!(typed("-2,25").map(|t| t.thousandths), Ok(-2250));
        assert_eq!(typed("\u{2212}.5").map(|t| t.thousandths), Ok(-500));
        for wrong in [
            "", "-", "1e3", "1.2.3", "2.", "1,000.5", "NaN", "inf", "--2", "2 5",
        ] {
            assert_eq!(typed(wrong), Err(NotANumber::Form), "{wrong}");
        }
        assert_eq!(typed("1.2345"), Err(NotANumber::TooLong));
        assert_eq!(typed("123456789"), Err(NotANumber::TooLong));
    }

    #[test]
    fn an_eighth_shows_its_third_decimal() {
        assert_eq!(signed(-1125), "-1.125");
        assert_eq!(signed(2250), "+2.25");
        assert_eq!(signed(0), "0.00");
        assert_eq!(plain(31500, 0), "31.5");
        assert_eq!(plain(31000, 0), "31");
    }
}
