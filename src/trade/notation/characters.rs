//! Steps 1 and 2: blanks, and the characters that word processors, focimeters and keyboards use.
//!
//! Compatibility normalisation (NFKC) is not used: it would turn `2¼` into `21⁄4`.

use super::error::{ErrorKind, NotationError};

/// The prism mark after [`clean`].
pub(super) const PRISM: char = 'Δ';
/// The degree mark after [`clean`].
pub(super) const DEGREE: char = '°';
/// The infinity mark after [`clean`]; it means plano.
pub(super) const INFINITY: char = '∞';

const EM_DASH: char = '\u{2014}';

/// Step 1: refuses an empty line and the words for no value, such as `nil`.
pub(super) fn given(line: &str) -> Result<&str, NotationError> {
    let line = line.trim();
    if line.is_empty() {
        return Err(NotationError::new(ErrorKind::Empty, ""));
    }
    let dashes = line
        .chars()
        .all(|c| c == '-' || c == EM_DASH || c == '\u{2015}' || plain(c) == Some('-'));
    let word = line.to_ascii_lowercase();
    if dashes || matches!(word.as_str(), "nil" | "none" | "n/a" | "na" | "n.a.") {
        return Err(NotationError::new(ErrorKind::NoValue, line));
    }
    Ok(line)
}

/// Step 2: returns the line in ASCII, [`PRISM`], [`DEGREE`] and [`INFINITY`].
pub(super) fn clean(line: &str) -> Result<Vec<char>, NotationError> {
    let mut out = Vec::with_capacity(line.len());
    let mut rest = line.chars();
    while let Some(c) = rest.next() {
        if let Some(plain) = plain(c) {
            out.push(plain);
            continue;
        }
        let figure_next = || {
            let mut after = rest
                .as_str()
                .chars()
                .map(|c| plain(c).unwrap_or(c))
                .skip_while(|c| *c == ' ');
            match after.next() {
                Some('.' | ',') => after.next().is_some_and(|c| c.is_ascii_digit()),
                next => next.is_some_and(|c| c.is_ascii_digit()),
            }
        };
        let kind = match c {
            EM_DASH if figure_next() => ErrorKind::AmbiguousDash,
            '±' | '∓' => ErrorKind::AmbiguousSign,
            _ => ErrorKind::UnsupportedCharacter,
        };
        return Err(NotationError::new(kind, &shown(c)));
    }
    Ok(out)
}

/// The plain character for `c`; `None` when it cannot be read.
fn plain(c: char) -> Option<char> {
    Some(match c {
        '\u{2212}' | '\u{2010}'..='\u{2013}' | '\u{FE63}' | '\u{FF0D}' => '-',
        '\u{FF0B}' => '+',
        // No-break (plain, figure and narrow), thin and hair spaces, and what moves a carriage.
        '\u{A0}' | '\u{2007}' | '\u{202F}' | '\u{2009}' | '\u{200A}' | '\t' | '\n' | '\r'
        | '\u{B}' | '\u{C}' => ' ',
        '×' => 'x',
        '°' | 'º' => DEGREE,
        '\u{394}' | '\u{2206}' | '\u{25B3}' | '^' => PRISM,
        '∞' => INFINITY,
        ' '..='~' => c,
        _ => return None,
    })
}

/// How a refused character is named: by itself when it can be seen, by its number otherwise.
fn shown(c: char) -> String {
    if c.is_alphanumeric()
        || matches!(c, '±' | '∓' | '\u{2010}'..='\u{2027}' | '¡'..='¬' | '®'..='¿')
    {
        c.to_string()
    } else {
        format!("U+{:04X}", u32::from(c))
    }
}

/// Whether the character at `at` is a digit.
pub(super) fn is_digit(line: &[char], at: usize) -> bool {
    line.get(at).is_some_and(char::is_ascii_digit)
}

/// Returns the end of the run of characters from `at` that satisfy `belongs`.
pub(super) fn end_of(line: &[char], at: usize, belongs: impl Fn(&char) -> bool) -> usize {
    line.get(at..)
        .unwrap_or_default()
        .iter()
        .position(|c| !belongs(c))
        .map_or(line.len(), |n| at + n)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;

    fn refused(line: &str) -> Option<ErrorKind> {
        given(line).and_then(clean).err().map(|e| e.kind)
    }

    #[test]
    fn every_dash_on_its_own_is_a_blank() {
        for line in ["-", "--", "–", "—", "−", " - ", "Nil", "N/A", "none"] {
            assert_eq!(refused(line), Some(ErrorKind::NoValue), "{line}");
        }
    }

    #[test]
    fn a_long_dash_is_doubtful_only_before_a_figure() {
        assert_eq!(refused("—2.25"), Some(ErrorKind::AmbiguousDash));
        assert_eq!(refused("R — .25"), Some(ErrorKind::AmbiguousDash));
        assert_eq!(
            refused("R -2.25 — L -2.00"),
            Some(ErrorKind::UnsupportedCharacter)
        );
    }

    #[test]
    fn fractions_and_foreign_figures_are_not_rewritten() {
        for line in [
            "+2¼",
            "-２.25",
            "-٢.٢٥",
            "-2.25\u{200B} DS",
            "-2\u{3002}25",
            "-2.25\u{0}",
        ] {
            assert_eq!(
                refused(line),
                Some(ErrorKind::UnsupportedCharacter),
                "{line}"
            );
        }
    }

    #[test]
    fn dashes_spaces_and_marks_become_plain() {
        let read = |line: &str| clean(line).unwrap().into_iter().collect::<String>();
        assert_eq!(
            read("\u{2010}1\u{2011}2\u{2012}3\u{2013}4\u{FE63}5\u{FF0D}6"),
            "-1-2-3-4-5-6"
        );
        assert_eq!(read("a\u{A0}b\u{202F}c\u{2009}d\te"), "a b c d e");
        assert_eq!(read("2∆ 2△ 2^ 9º ∞ ×"), "2Δ 2Δ 2Δ 9° ∞ x");
    }
}
