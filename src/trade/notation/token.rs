//! Cutting a cleaned line into numbers, words and marks.

use super::acuity;
use super::characters::{DEGREE, INFINITY, PRISM, end_of, is_digit};
use super::number::{Number, Sign};
use super::word::{Word, first_of_two, meaning};

/// Kind of a piece of the line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum TokenKind {
    /// A number with the signs before it.
    Number(Number),
    /// A word with a meaning.
    Word(Word),
    /// An acuity fraction.
    Fraction,
    /// A degree mark.
    Degree,
    /// A prism mark.
    PrismMark,
    /// `@`.
    AtSign,
    /// `:` or `=` after a word.
    Colon,
    /// A slash, bar, semicolon or separating comma.
    Separator,
    /// A sign with no figures.
    LoneSign,
    /// Any other piece; `figure`: whether it has a digit, so that a number was meant.
    Other { figure: bool },
}

/// A piece of the line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Token {
    /// What it is.
    pub kind: TokenKind,
    /// How it was written.
    pub text: String,
    /// Its position in the line, characters.
    pub at: usize,
}

impl Token {
    /// The word, when it is one.
    pub(super) fn word(&self) -> Option<Word> {
        if let TokenKind::Word(word) = self.kind {
            Some(word)
        } else {
            None
        }
    }

    /// Whether it names the sphere or the cylinder in full (`Sph`, `cylinder`), which may be
    /// done before the figure; `DS` and `DC` are units and come after it.
    pub(super) fn is_name(&self) -> bool {
        matches!(self.word(), Some(Word::SphereMark | Word::CylinderMark))
            && self.text.starts_with(['s', 'S', 'c', 'C'])
    }

    /// The number, when it is one.
    pub(super) fn number(&self) -> Option<&Number> {
        if let TokenKind::Number(number) = &self.kind {
            Some(number)
        } else {
            None
        }
    }
}

/// Cuts a line whose characters and commas are settled into its pieces.
pub(super) fn cut(line: &[char]) -> Vec<Token> {
    let mut tokens = Vec::new();
    let mut at = 0;
    while let Some(c) = line.get(at) {
        if *c == ' ' {
            at += 1;
            continue;
        }
        let (kind, end) = piece(line, at);
        let end = end.max(at + 1);
        let text = line.get(at..end).unwrap_or_default().iter().collect();
        tokens.push(Token { kind, text, at });
        at = end;
    }
    tokens
}

/// The piece that begins at `at`, and where it ends.
fn piece(line: &[char], at: usize) -> (TokenKind, usize) {
    let mark = |kind| (kind, at + 1);
    match line.get(at).copied().unwrap_or(' ') {
        '/' | ';' | '|' | ',' => mark(TokenKind::Separator),
        ':' | '=' => mark(TokenKind::Colon),
        '&' => mark(TokenKind::Word(Word::And)),
        '@' => mark(TokenKind::AtSign),
        DEGREE => mark(TokenKind::Degree),
        PRISM => mark(TokenKind::PrismMark),
        INFINITY => mark(TokenKind::Word(Word::Plano)),
        '+' | '-' => signed(line, at),
        c if c.is_ascii_alphabetic() => letters(line, at),
        _ if starts_number(line, at) => acuity::fraction(line, at).map_or_else(
            || number(line, at, at, Sign::None),
            |end| (TokenKind::Fraction, end),
        ),
        _ => other(line, at, at),
    }
}

fn is_letter(line: &[char], at: usize) -> bool {
    line.get(at).is_some_and(char::is_ascii_alphabetic)
}

fn starts_number(line: &[char], at: usize) -> bool {
    is_digit(line, at) || (line.get(at) == Some(&'.') && is_digit(line, at + 1))
}

/// Whether a character is a piece by itself, and so ends an unreadable piece.
fn is_single_piece(c: char) -> bool {
    matches!(
        c,
        ' ' | '/' | ';' | '|' | ',' | ':' | '=' | '&' | '@' | '+' | '-' | DEGREE | PRISM | INFINITY
    )
}

/// What cannot be read, from `at`; `from` is known to belong to it.
fn other(line: &[char], at: usize, from: usize) -> (TokenKind, usize) {
    // A bracket before a sign encloses the figure: `(-2.25)` is one piece.
    let opening = line
        .get(from)
        .is_some_and(|c| matches!(c, '(' | '[' | '{' | '<' | '~'));
    let from = if opening {
        end_of(line, from + 1, |c| matches!(c, '+' | '-'))
    } else {
        from
    };
    let end = end_of(line, from, |c| !is_single_piece(*c));
    let figure = line
        .get(at..end)
        .unwrap_or_default()
        .iter()
        .any(char::is_ascii_digit);
    (TokenKind::Other { figure }, end)
}

/// A number after its sign, or a sign that has none.
fn signed(line: &[char], at: usize) -> (TokenKind, usize) {
    let doubtful = matches!(
        line.get(at..at + 3),
        Some(['+', '/', '-'] | ['-', '/', '+'])
    );
    let spaced = end_of(line, at, |c| matches!(c, '+' | '-' | ' '));
    let start = if doubtful {
        end_of(line, at + 3, |c| *c == ' ')
    } else {
        spaced
    };
    if starts_number(line, start) {
        let run = line.get(at..start).unwrap_or_default();
        let signs = run.iter().filter(|c| **c != ' ').count();
        let sign = match (signs, run) {
            _ if doubtful => Sign::Doubtful,
            (1, ['+']) => Sign::Plus,
            (1, ['-']) => Sign::Minus,
            (1, _) => Sign::Apart {
                plus: line.get(at) == Some(&'+'),
            },
            _ => Sign::Many,
        };
        return number(line, at, start, sign);
    }
    let end = end_of(line, at, |c| matches!(c, '+' | '-'));
    if line.get(end).is_none_or(|c| is_single_piece(*c)) {
        (TokenKind::LoneSign, end)
    } else {
        other(line, at, end)
    }
}

/// A number whose figures begin at `start`, unless what touches it makes it something else.
fn number(line: &[char], at: usize, start: usize, sign: Sign) -> (TokenKind, usize) {
    let end = end_of(line, start, |c| c.is_ascii_digit() || *c == '.');
    let letters = end_of(line, end, char::is_ascii_alphabetic);
    if letters > end {
        // Dotted marks (`-4.00D.S.`) are looked up as they will be cut.
        let (mark, _) = letters_kind(line, end);
        let touches = match mark {
            TokenKind::Word(word) => word.may_touch_a_figure(),
            _ => false,
        };
        if !touches {
            return other(line, at, end);
        }
    } else if line.get(end).is_some_and(|c| !is_single_piece(*c))
        && is_alphanumeric_or_point(line, end + 1)
    {
        return other(line, at, end);
    }
    let figures = line.get(start..end).unwrap_or_default().iter().collect();
    (TokenKind::Number(Number { sign, figures }), end)
}

fn is_alphanumeric_or_point(line: &[char], at: usize) -> bool {
    line.get(at)
        .is_some_and(|c| c.is_ascii_alphanumeric() || *c == '.')
}

/// A word, an abbreviation with dots, or two words written together.
fn letters(line: &[char], at: usize) -> (TokenKind, usize) {
    let (kind, end) = letters_kind(line, at);
    // One letter against a figure is more likely a mistyped figure: O for 0, l or I for 1.
    let single = !is_letter(line, at + 1)
        && line
            .get(at)
            .is_some_and(|c| matches!(c, 'o' | 'O' | 'l' | 'i' | 'I'));
    if matches!(kind, TokenKind::Other { .. }) || (single && starts_number(line, at + 1)) {
        other(line, at, at)
    } else {
        (kind, end)
    }
}

/// As [`letters`], without looking at what touches the word.
fn letters_kind(line: &[char], at: usize) -> (TokenKind, usize) {
    let end = end_of(line, at, char::is_ascii_alphabetic);
    let text: String = line.get(at..end).unwrap_or_default().iter().collect();
    if text.eq_ignore_ascii_case("n")
        && matches!(line.get(end..end + 2), Some(['/', 'a' | 'A']))
        && !is_letter(line, end + 2)
    {
        return (TokenKind::Word(Word::Nil), end + 2);
    }
    let unknown = (TokenKind::Other { figure: false }, end);
    if end == at + 1
        && line.get(end) == Some(&'.')
        && is_letter(line, end + 1)
        && !is_letter(line, end + 2)
    {
        // The longest abbreviation that means something: `D.C.` in `D.C.x90`.
        let known = (2..=letters_with_dots(line, at)).rev().find_map(|count| {
            let joined: String = line
                .get(at..at + 2 * count - 1)
                .unwrap_or_default()
                .iter()
                .filter(|c| **c != '.')
                .take(count)
                .collect();
            meaning(&joined)
                .map(|word| (TokenKind::Word(word), after_dot(line, at + 2 * count - 1)))
        });
        return known.unwrap_or(unknown);
    }
    if let Some(word) = meaning(&text) {
        if word == Word::Base && line.get(end) == Some(&'-') && is_letter(line, end + 1) {
            return (TokenKind::Word(word), end + 1);
        }
        return (TokenKind::Word(word), after_dot(line, end));
    }
    match first_of_two(&text) {
        Some(first) => {
            let head: String = text.chars().take(first).collect();
            meaning(&head).map_or(unknown, |word| (TokenKind::Word(word), at + first))
        }
        None => unknown,
    }
}

/// Number of single letters in a row with a dot between each and the next.
fn letters_with_dots(line: &[char], at: usize) -> usize {
    let mut count = 1;
    let mut end = at + 1;
    while line.get(end) == Some(&'.') && is_letter(line, end + 1) && !is_letter(line, end + 2) {
        count += 1;
        end += 2;
    }
    count
}

/// Steps over the dot of an abbreviation, unless it is the point of a number.
fn after_dot(line: &[char], end: usize) -> usize {
    if line.get(end) == Some(&'.') && !is_digit(line, end + 1) {
        end + 1
    } else {
        end
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pieces(line: &str) -> Vec<String> {
        cut(&line.chars().collect::<Vec<_>>())
            .into_iter()
            .map(|t| t.text)
            .collect()
    }

    fn kinds(line: &str) -> Vec<TokenKind> {
        cut(&line.chars().collect::<Vec<_>>())
            .into_iter()
            .map(|t| t.kind)
            .collect()
    }

    #[test]
    fn marks_may_touch_their_figures() {
        assert_eq!(
            pieces("R-2.25DS/-0.75DCx90"),
            ["R", "-2.25", "DS", "/", "-0.75", "DC", "x", "90"]
        );
        assert_eq!(
            pieces("-4.00D.S.-.5D.C.x90°"),
            ["-4.00", "D.S.", "-.5", "D.C.", "x", "90", "°"]
        );
        assert_eq!(
            pieces("plx90 Add.+2.00BVD12mm"),
            ["pl", "x", "90", "Add.", "+2.00", "BVD", "12", "mm"]
        );
    }

    #[test]
    fn the_last_dot_of_an_abbreviation_is_free() {
        assert_eq!(pieces("O.S -4.00 D.S"), ["O.S", "-4.00", "D.S"]);
        assert_eq!(
            pieces("O.S.-4.00 B.V.D.12"),
            ["O.S.", "-4.00", "B.V.D", ".12"]
        );
    }

    #[test]
    fn mistyped_figures_stay_whole() {
        for line in [
            "9O", "-2.2S", "-O.75", "l80", "(2.25)", "(-2.25)", "2.?5", "xl80", "-?.25",
        ] {
            assert_eq!(kinds(line), [TokenKind::Other { figure: true }], "{line}");
        }
    }

    #[test]
    fn signs_are_read_with_their_figures() {
        let sign = |line: &str| match kinds(line).first() {
            Some(TokenKind::Number(number)) => Some(number.sign),
            _ => None,
        };
        assert_eq!(sign("-2"), Some(Sign::Minus));
        assert_eq!(sign("+.5"), Some(Sign::Plus));
        assert_eq!(sign("- 2"), Some(Sign::Apart { plus: false }));
        assert_eq!(sign("+ 2"), Some(Sign::Apart { plus: true }));
        assert_eq!(sign("+/-2"), Some(Sign::Doubtful));
        assert_eq!(sign("- -2"), Some(Sign::Many));
        assert_eq!(sign("-"), None);
    }
}
