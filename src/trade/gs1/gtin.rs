//! Global Trade Item Numbers.

use super::check_digit::wanted_instead;
use super::error::Gs1Error;

/// A trade item number with its check digit: GTIN-8, -12, -13 (also EAN-13) or -14.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Gtin(String);

impl Gtin {
    /// Reads 8, 12, 13 or 14 figures, with blanks between them or not.
    ///
    /// # Errors
    /// [`Gs1Error::GtinLength`], [`Gs1Error::NotFigures`], or [`Gs1Error::CheckDigit`] with the digit that the
    /// others give.
    pub fn read(text: &str) -> Result<Self, Gs1Error> {
        let digits: String = text.chars().filter(|c| *c != ' ').collect();
        if !digits.bytes().all(|b| b.is_ascii_digit()) {
            return Err(Gs1Error::NotFigures);
        }
        if !matches!(digits.len(), 8 | 12..=14) {
            return Err(Gs1Error::GtinLength {
                found: digits.len(),
            });
        }
        match wanted_instead(&digits) {
            None => Ok(Self(shortest(&digits).to_owned())),
            Some(wanted) => Err(Gs1Error::CheckDigit { digits, wanted }),
        }
    }

    /// Returns its figures in their shortest usual form, so that a number reads the same in
    /// whatever code it was: an EAN-13 within a GTIN-14 has 13, a GTIN-8 has 8.
    #[must_use]
    pub fn figures(&self) -> &str {
        &self.0
    }

    /// Returns the same number in the 14 figures of an element string.
    #[must_use]
    pub fn fourteen(&self) -> String {
        format!("{:0>14}", self.0)
    }
}

/// Returns the digits without the leading zeros that fill a field of 14: six of a GTIN-8, two of a
/// GTIN-12, one of a GTIN-13 (General Specifications, figure of section 3.3.2).
fn shortest(digits: &str) -> &str {
    let longest = digits.trim_start_matches('0').len();
    let length = match longest {
        ..=8 => 8,
        9..=12 => 12,
        13 => 13,
        _ => 14,
    };
    // Zeros were taken off only where there are as many.
    digits
        .get(digits.len().saturating_sub(length)..)
        .unwrap_or(digits)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_number_reads_the_same_in_every_code() {
        for (code, figures) in [
            ("6291041500213", "6291041500213"),
            ("06291041500213", "6291041500213"),
            ("6 291041 500213", "6291041500213"),
            ("416000336108", "416000336108"),
            ("0416000336108", "416000336108"),
            ("00416000336108", "416000336108"),
            ("02345673", "02345673"),
            ("00000002345673", "02345673"),
            ("12345678901231", "12345678901231"),
        ] {
            let gtin = Gtin::read(code).unwrap();
            assert_eq!(gtin.figures(), figures, "{code}");
            assert_eq!(Gtin::read(&gtin.fourteen()), Ok(gtin), "{code}");
        }
    }

    #[test]
    fn a_wrong_number_is_told_in_a_sentence() {
        let said = |code: &str| Gtin::read(code).unwrap_err().to_string();
        assert!(said("6291041500214").contains("is 4, its other figures give 3"));
        assert!(said("62910415002").contains("not 11"));
        assert!(said("629104150O213").contains("figures"));
    }

    /// Any single wrong figure changes the check digit: the weights 3 and 1 have no factor in
    /// common with 10.
    #[test]
    fn every_single_wrong_figure_is_found() {
        let right = "6291041500213";
        for at in 0..right.len() {
            for figure in '0'..='9' {
                let mut wrong: Vec<char> = right.chars().collect();
                if wrong[at] == figure {
                    continue;
                }
                wrong[at] = figure;
                let wrong: String = wrong.into_iter().collect();
                assert!(
                    matches!(Gtin::read(&wrong), Err(Gs1Error::CheckDigit { .. })),
                    "{wrong}"
                );
            }
        }
    }
}
