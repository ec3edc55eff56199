//! Acuities: fractions of a usual test distance, and how many letters more or fewer were read.

use super::characters::{PRISM, end_of, is_digit};

/// The end of an acuity fraction that begins at `at`: a usual test distance in metres or feet, the
/// line read, and how many letters more or fewer (`6/9-2`).
pub(super) fn fraction(line: &[char], at: usize) -> Option<usize> {
    let text = |from: usize, to: usize| {
        line.get(from..to)
            .unwrap_or_default()
            .iter()
            .collect::<String>()
    };
    let slash = end_of(line, at, char::is_ascii_digit);
    let usual = matches!(
        text(at, slash).as_str(),
        "1" | "2" | "3" | "4" | "5" | "6" | "10" | "15" | "20"
    );
    if !usual
        || line.get(slash) != Some(&'/')
        || (at > 1 && line.get(at - 1) == Some(&'/') && is_digit(line, at - 2))
    {
        return None;
    }
    let whole = end_of(line, slash + 1, char::is_ascii_digit);
    let mut end = whole;
    if line.get(whole) == Some(&'.') && is_digit(line, whole + 1) {
        end = end_of(line, whole + 1, char::is_ascii_digit);
    }
    let read = text(slash + 1, whole).parse::<u16>().ok()?;
    if !(3..=999).contains(&read) || text(whole, end).chars().count() > 3 {
        return None;
    }
    if line.get(end).is_some_and(|c| matches!(c, '+' | '-')) {
        let tail = if is_digit(line, end + 1) {
            end + 2
        } else {
            end + 1
        };
        let free = |at: usize| {
            line.get(at)
                .is_none_or(|c| matches!(c, ' ' | ';' | '|' | ','))
        };
        end = if free(tail) { tail } else { end };
    }
    let after = line.get(end_of(line, end, |c| *c == ' '));
    let touched = line
        .get(end)
        .is_some_and(|c| !matches!(c, ' ' | ';' | '|' | ',' | '+' | '-' | '/'));
    let another = line.get(end) == Some(&'/') && is_digit(line, end + 1);
    (!touched && !another && after != Some(&PRISM)).then_some(end)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn end(line: &str) -> Option<usize> {
        fraction(&line.chars().collect::<Vec<_>>(), 0)
    }

    #[test]
    fn acuities_are_fractions_of_a_usual_test_distance() {
        for line in ["6/6", "6/9-2", "20/20", "6/5+1", "6/7.5", "3/60", "6/9-"] {
            assert_eq!(end(line), Some(line.chars().count()), "{line}");
        }
        for line in ["8/-0.50", "90/6", "6/", "6/6/6", "3/4Δ", "32/31", "1/2Δ"] {
            assert!(end(line).is_none(), "{line}");
        }
        assert_eq!(end("6/6-0.75"), Some(3));
    }
}
