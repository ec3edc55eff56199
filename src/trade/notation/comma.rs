//! Step 3: whether the commas of a line are decimals or part one figure from the next.
//!
//! A comma is a decimal only when no figure has a point and no comma parts figures; it parts
//! figures only when points are the decimals. Everything else is refused.

use super::error::{ErrorKind, NotationError};

/// Returns the line with decimal commas turned into points; the other commas separate figures.
pub(super) fn settle(mut line: Vec<char>) -> Result<Vec<char>, NotationError> {
    let commas: Vec<usize> = line
        .iter()
        .enumerate()
        .filter(|(_, c)| **c == ',')
        .map(|(i, _)| i)
        .collect();
    if commas.is_empty() {
        return Ok(line);
    }
    let points = (0..line.len()).any(|i| {
        line.get(i) == Some(&'.')
            && (digit(&line, i.checked_add(1)) || digit(&line, i.checked_sub(1)))
    });
    let decimals: Vec<usize> = commas
        .iter()
        .copied()
        .filter(|i| looks_decimal(&line, *i))
        .collect();
    let chained = decimals
        .iter()
        .any(|i| decimals.contains(&run_start(&line, *i).saturating_sub(1)));
    let refuse = |kind| Err(NotationError::new(kind, ","));
    if !decimals.is_empty() && points {
        return refuse(ErrorKind::MixedDecimalSeparators);
    }
    if chained || (!decimals.is_empty() && decimals.len() < commas.len()) {
        return refuse(ErrorKind::AmbiguousComma);
    }
    if decimals.is_empty() && !points && line.iter().any(char::is_ascii_digit) {
        return refuse(ErrorKind::AmbiguousComma);
    }
    for i in decimals {
        if let Some(comma) = line.get_mut(i) {
            *comma = '.';
        }
    }
    Ok(line)
}

/// Whether the comma at `i` could be the decimal of one number: figures after it, figures or a
/// sign before it, and no decimal point on either side.
fn looks_decimal(line: &[char], i: usize) -> bool {
    let start = run_start(line, i);
    let before = start.checked_sub(1).and_then(|b| line.get(b));
    let end = (i + 1..line.len())
        .find(|j| !digit(line, Some(*j)))
        .unwrap_or(line.len());
    let end_has_point = line.get(end) == Some(&'.') && digit(line, Some(end + 1));
    let begins = if start < i {
        before != Some(&'.')
    } else {
        matches!(before, Some('+' | '-'))
    };
    end > i + 1 && begins && !end_has_point
}

/// Returns the beginning of the run of digits directly before `i`.
fn run_start(line: &[char], i: usize) -> usize {
    (0..i)
        .rev()
        .find(|j| !digit(line, Some(*j)))
        .map_or(0, |j| j + 1)
}

fn digit(line: &[char], i: Option<usize>) -> bool {
    i.and_then(|i| line.get(i))
        .is_some_and(char::is_ascii_digit)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;

    fn settled(line: &str) -> Result<String, ErrorKind> {
        settle(line.chars().collect())
            .map(|l| l.into_iter().collect())
            .map_err(|e| e.kind)
    }

    #[test]
    fn commas_are_decimals_when_nothing_speaks_against_it() {
        assert_eq!(
            settled("-2,25 -0,75 x 90 add 2,00").unwrap(),
            "-2.25 -0.75 x 90 add 2.00"
        );
        assert_eq!(settled("-,25").unwrap(), "-.25");
        assert_eq!(settled("O.S. -2,25 D.S.").unwrap(), "O.S. -2.25 D.S.");
    }

    #[test]
    fn commas_part_figures_when_points_are_the_decimals() {
        for line in [
            "-2.25,-0.75,90",
            "R,-2.25,-0.75,90,1.50 BO",
            "-2.25 , -0.75 x 90",
        ] {
            assert_eq!(settled(line).unwrap(), line);
        }
        assert_eq!(settled("R plano, L plano").unwrap(), "R plano, L plano");
    }

    #[test]
    fn everything_else_is_refused() {
        for line in [
            "-2,25, -0,75 x 90",
            "-2,25,-0,75,90",
            "-2, -1, 90",
            "0,75,90",
            "-225,-75,90",
        ] {
            assert_eq!(settled(line), Err(ErrorKind::AmbiguousComma), "{line}");
        }
        for line in ["-2.25 -0,75 x 90", "-2,25 -0.75 x 90", "-2.25, -0,75"] {
            assert_eq!(
                settled(line),
                Err(ErrorKind::MixedDecimalSeparators),
                "{line}"
            );
        }
    }
}
