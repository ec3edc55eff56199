//! The modulo-10 check digit: weights 3 and 1 by turns, 3 beside the check digit.

/// Returns the check digit that belongs after these figures.
pub(super) fn check_digit(figures: impl DoubleEndedIterator<Item = u32>) -> u32 {
    let sum: u32 = figures
        .rev()
        .zip([3, 1].into_iter().cycle())
        .map(|(figure, weight)| figure * weight)
        .sum();
    (10 - sum % 10) % 10
}

/// Returns the check digit that the figures before the last one of `digits` give, where it is not
/// that last one. Anything but figures is not looked at.
pub(super) fn wanted_instead(digits: &str) -> Option<u32> {
    let (last, before) = digits.as_bytes().split_last()?;
    let figure = |byte: &u8| u32::from(byte.saturating_sub(b'0'));
    let wanted = check_digit(before.iter().map(figure));
    (wanted != figure(last)).then_some(wanted)
}

#[cfg(test)]
mod tests {
    use super::wanted_instead;

    /// The worked example for GTIN-13 that GS1 organisations publish (read at gs1hk.org), and the
    /// examples in the tests of GS1's Barcode Syntax Dictionary (`lint_csum.c`): GTIN-8, -12, -13, -14
    /// and an SSCC.
    #[test]
    fn published_examples_are_right_and_their_neighbours_wrong() {
        for digits in [
            "6291041500213",
            "02345673",
            "416000336108",
            "1234567890128",
            "12345678901231",
            "123456789012345675",
        ] {
            assert_eq!(wanted_instead(digits), None, "{digits}");
        }
        for (digits, wanted) in [
            ("12345673", 0),
            ("416000336109", 8),
            ("1234567890129", 8),
            ("12345678901232", 1),
            ("123456789012345670", 5),
        ] {
            assert_eq!(wanted_instead(digits), Some(wanted), "{digits}");
        }
    }
}
