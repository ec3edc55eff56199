//! The form of one number: its signs, its figures and its point.

/// The sign before the figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sign {
    /// Nothing.
    None,
    /// A plus against the figures.
    Plus,
    /// A minus against the figures.
    Minus,
    /// More than one sign.
    Many,
    /// One sign that a space parts from the figures, until it is settled whose it is.
    Apart {
        /// Whether it is a plus.
        plus: bool,
    },
    /// `+/-`, or a sign apart from the figures that may be a dash between them.
    Doubtful,
}

/// A number as it was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Number {
    /// The sign.
    pub sign: Sign,
    /// The figures and points, decimal commas already turned into points.
    pub figures: String,
}

impl Number {
    /// Whether there is a sign before the figures.
    pub(super) fn is_signed(&self) -> bool {
        self.sign != Sign::None
    }

    /// Whether there is a point, or more than one.
    pub(super) fn has_point(&self) -> bool {
        self.figures.contains('.')
    }

    /// Returns the figures before and after the point, an empty text without one, or
    /// `None` for a malformed number (`2.25.0`, `2.`).
    pub(super) fn parts(&self) -> Option<(&str, &str)> {
        match self.figures.split_once('.') {
            None => Some((&self.figures, "")),
            Some((_, after)) if after.is_empty() || after.contains('.') => None,
            Some(parts) => Some(parts),
        }
    }

    /// Returns the whole thousandths, without sign and never more than a million units, or `None`
    /// when the form is wrong or the number is finer than a thousandth.
    pub(super) fn thousandths(&self) -> Option<i32> {
        let (whole, fraction) = self.parts()?;
        let fraction = fraction.trim_end_matches('0');
        if fraction.len() > 3 {
            return None;
        }
        let after = format!("{fraction:0<3}").parse::<i32>().ok()?;
        Some(whole_number(whole) * 1000 + after)
    }
}

/// The value of a run of figures, a million for any larger number.
pub(super) fn whole_number(figures: &str) -> i32 {
    const MOST: i32 = 1_000_000;
    figures.bytes().fold(0_i32, |n, b| {
        (n * 10 + i32::from(b.saturating_sub(b'0'))).min(MOST)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn number(figures: &str) -> Number {
        Number {
            sign: Sign::None,
            figures: figures.to_owned(),
        }
    }

    #[test]
    fn a_number_has_at_most_one_point_and_figures_after_it() {
        for wrong in ["2.", "2.25.0", "..5", "2..5"] {
            assert_eq!(number(wrong).parts(), None, "{wrong}");
        }
        assert_eq!(number(".25").parts(), Some(("", "25")));
        assert_eq!(number("02.5").thousandths(), Some(2500));
    }

    #[test]
    fn nothing_is_rounded_and_nothing_overflows() {
        assert_eq!(number("1.12500").thousandths(), Some(1125));
        assert_eq!(number("1.1254").thousandths(), None);
        assert_eq!(number(&"9".repeat(400)).thousandths(), Some(1_000_000_000));
    }
}
