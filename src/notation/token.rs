//! Tokens of a settled line: figures, words, marks.

use super::characters::{DEGREE, PRISM};

/// A figure as it stands: its signs and its digits with whatever points they have.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Figure {
    pub(super) signs: String,
    pub(super) digits: String,
}

/// One token.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Token {
    Figure(Figure),
    /// Letters in lower case, dots dropped.
    Word(String),
    Acuity(String),
    Mark(char),
}

/// Words that may stand directly before the x of an axis.
const BEFORE_X: [&str; 5] = ["d", "ds", "dc", "sph", "cyl"];

/// Splits a settled line into tokens.
pub(super) fn tokens(line: &str) -> Vec<Token> {
    let chars: Vec<char> = line.chars().collect();
    let mut out = Vec::new();
    let mut i = 0;
    while let Some(c) = chars.get(i).copied() {
        if c == ' ' {
            i += 1;
        } else if let Some((text, next)) = acuity(&chars, i) {
            out.push(Token::Acuity(text));
            i = next;
        } else if let Some((figure, next)) = figure(&chars, i) {
            out.push(Token::Figure(figure));
            i = next;
        } else if c.is_ascii_alphabetic() {
            let end = run(&chars, i, |c| c.is_ascii_alphabetic() || c == '.');
            let word: String = taken(&chars, i, end).to_lowercase().replace('.', "");
            match word
                .strip_suffix('x')
                .filter(|head| BEFORE_X.contains(head))
            {
                Some(head) => {
                    out.extend([Token::Word(head.to_owned()), Token::Word("x".to_owned())]);
                }
                None => out.push(Token::Word(word)),
            }
            i = end;
        } else if c == '(' {
            // What stands in brackets is a remark, whatever figures it holds.
            out.push(Token::Mark(c));
            i = run(&chars, i, |c| c != ')') + 1;
        } else {
            out.push(Token::Mark(c));
            i += 1;
        }
    }
    out
}

fn run(chars: &[char], from: usize, is: impl Fn(char) -> bool) -> usize {
    from + chars.iter().skip(from).take_while(|c| is(**c)).count()
}

fn taken(chars: &[char], from: usize, to: usize) -> String {
    chars.iter().take(to).skip(from).collect()
}

/// A figure: signs (blanks may follow them), then digits and points.
fn figure(chars: &[char], from: usize) -> Option<(Figure, usize)> {
    let signs_end = run(chars, from, |c| matches!(c, '+' | '-'));
    let start = if signs_end > from {
        run(chars, signs_end, |c| c == ' ')
    } else {
        from
    };
    let end = run(chars, start, |c| c.is_ascii_digit() || c == '.');
    let digits = taken(chars, start, end);
    digits.chars().any(|c| c.is_ascii_digit()).then(|| {
        let figure = Figure {
            signs: taken(chars, from, signs_end),
            digits,
        };
        (figure, end)
    })
}

/// An acuity fraction: 6/6, 6/7.5, 20/20, with letters missed or gained (6/9-2).
fn acuity(chars: &[char], from: usize) -> Option<(String, usize)> {
    let before = from.checked_sub(1).and_then(|i| chars.get(i));
    if before.is_some_and(|c| c.is_ascii_digit() || matches!(c, '.' | '+' | '-')) {
        return None;
    }
    let slash = run(chars, from, |c| c.is_ascii_digit());
    if slash == from || slash - from > 2 || chars.get(slash) != Some(&'/') {
        return None;
    }
    let end = run(chars, slash + 1, |c| c.is_ascii_digit() || c == '.');
    if !chars.get(slash + 1).is_some_and(char::is_ascii_digit) {
        return None;
    }
    let mut stop = end;
    if chars.get(end).is_some_and(|c| matches!(c, '+' | '-'))
        && chars.get(end + 1).is_some_and(char::is_ascii_digit)
    {
        stop = end + 2;
    }
    let next = chars.get(stop);
    let ends = next.is_none_or(|c| matches!(c, ' ' | ';' | '|' | '/' | ':'));
    ends.then(|| (taken(chars, from, stop), stop))
}

impl Token {
    /// The word, if it is one.
    pub(super) fn word(&self) -> Option<&str> {
        match self {
            Self::Word(w) => Some(w),
            _ => None,
        }
    }

    /// Whether it is that mark.
    pub(super) fn is_mark(&self, mark: char) -> bool {
        *self == Self::Mark(mark)
    }

    /// Whether it only separates.
    pub(super) fn is_separator(&self) -> bool {
        matches!(self, Self::Mark(':' | ';' | '|' | '/' | ',' | '='))
    }

    /// Whether it is the mark of a prism amount.
    pub(super) fn is_prism_mark(&self) -> bool {
        self.is_mark(PRISM)
    }

    /// Whether it is the mark of degrees, or the word.
    pub(super) fn is_degree(&self) -> bool {
        self.is_mark(DEGREE) || matches!(self.word(), Some("deg" | "degs" | "degree" | "degrees"))
    }
}
