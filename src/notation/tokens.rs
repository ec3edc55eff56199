//! Cutting a line into numbers, words, acuities and marks.

use super::characters::{DEGREE, PLANO, PRISM};
use super::number::{Numeral, Sign};
use super::words::{Word, glued_axis, meaning};

/// One piece of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Token {
    /// Where it begins, in characters.
    pub place: usize,
    /// The text as it was typed.
    pub text: String,
    /// What it is.
    pub kind: Kind,
}

/// What a piece of a line is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Kind {
    /// Figures, with any signs before them.
    Number(Numeral),
    /// A known word.
    Word(Word),
    /// An acuity such as 6/6.
    Acuity,
    /// The prism mark.
    PrismMark,
    /// A degree sign.
    Degree,
    /// `@`.
    At,
    /// `:`.
    Colon,
    /// `&`.
    Ampersand,
    /// `/`, `;`, `|` or a comma between fields.
    Separator(char),
    /// A minus with no figure after it.
    Dash,
    /// Anything else.
    Unknown,
}

/// Cuts a line into tokens.
pub(super) fn cut(text: &[char]) -> Vec<Token> {
    let mut cutter = Cutter {
        text,
        at: 0,
        out: Vec::new(),
    };
    while let Some(c) = cutter.peek(0) {
        if c == ' ' {
            cutter.at += 1;
        } else {
            cutter.next(c);
        }
    }
    cutter.out
}

struct Cutter<'a> {
    text: &'a [char],
    at: usize,
    out: Vec<Token>,
}

impl Cutter<'_> {
    fn peek(&self, ahead: usize) -> Option<char> {
        self.text.get(self.at + ahead).copied()
    }

    /// The length of the run that begins `ahead` characters on.
    fn run(&self, ahead: usize, keep: impl Fn(char) -> bool) -> usize {
        let rest = self.text.get(self.at + ahead..).unwrap_or_default();
        rest.iter().take_while(|c| keep(**c)).count()
    }

    fn is_figure(&self, ahead: usize) -> bool {
        match self.peek(ahead) {
            Some('.') => self
                .peek(ahead + 1)
                .is_some_and(|c| c.is_ascii_digit() || c == '.'),
            next => next.is_some_and(|c| c.is_ascii_digit()),
        }
    }

    fn last_is(&self, word: Word) -> bool {
        let mut back = self.out.iter().rev().skip_while(|t| t.kind == Kind::Colon);
        back.next().is_some_and(|t| t.kind == Kind::Word(word))
    }

    fn push(&mut self, kind: Kind, length: usize) {
        let end = (self.at + length).min(self.text.len());
        let text = self
            .text
            .get(self.at..end)
            .unwrap_or_default()
            .iter()
            .collect();
        self.out.push(Token {
            place: self.at,
            text,
            kind,
        });
        self.at = end;
    }

    fn next(&mut self, c: char) {
        if c.is_ascii_alphabetic() {
            return self.word();
        }
        if matches!(c, '+' | '-') {
            return self.signs();
        }
        if self.is_figure(0) {
            return match self.acuity() {
                Some(length) => self.push(Kind::Acuity, length),
                None => self.number(0, Sign::None),
            };
        }
        let kind = match c {
            PRISM => Kind::PrismMark,
            DEGREE => Kind::Degree,
            PLANO => Kind::Word(Word::Plano),
            '@' => Kind::At,
            ':' => Kind::Colon,
            '&' => Kind::Ampersand,
            '/' | ';' | '|' | ',' => Kind::Separator(c),
            _ => Kind::Unknown,
        };
        self.push(kind, 1);
    }

    /// Reads signs and the figures that belong to them.
    fn signs(&mut self) {
        if self.peek(0) == Some('+') && self.peek(1) == Some('/') && self.peek(2) == Some('-') {
            return if self.is_figure(3) {
                self.number(3, Sign::PlusMinus);
            } else {
                self.push(Kind::Unknown, 3);
            };
        }
        let signs = self.run(0, |c| matches!(c, '+' | '-'));
        let spaces = self.run(signs, |c| c == ' ');
        let plus = self.peek(0) == Some('+');
        match (self.is_figure(signs + spaces), signs, plus) {
            (true, 1, true) => self.number(1 + spaces, Sign::Plus),
            (true, 1, false) if spaces == 0 => self.number(1, Sign::Minus),
            // A minus on its own may stand for a blank, or between a label and a figure.
            (true, 1, false) => self.number(1 + spaces, Sign::Apart),
            (true, ..) if spaces == 0 => self.number(signs, Sign::Double),
            (_, _, false) => self.push(Kind::Dash, signs),
            (_, _, true) => self.push(Kind::Unknown, signs),
        }
    }

    /// Reads figures, and letters glued to them that are no word of their own.
    fn number(&mut self, skip: usize, sign: Sign) {
        let length = self.run(skip, |c| c.is_ascii_digit() || c == '.');
        let start = self.at + skip;
        let digits = self
            .text
            .get(start..start + length)
            .unwrap_or_default()
            .iter()
            .collect();
        let (here, before) = (self.at, self.out.len());
        self.push(Kind::Number(Numeral { sign, digits }), skip + length);
        if self.peek(0).is_some_and(|c| c.is_ascii_alphabetic()) {
            self.word();
            if self.out.last().is_some_and(|t| t.kind == Kind::Unknown) {
                // A letter typed for a figure (9O) leaves no number at all.
                let end = self.at;
                self.out.truncate(before);
                self.at = here;
                self.push(Kind::Unknown, end - here);
            }
        }
    }

    /// Reads letters, which may have dots between and after them.
    fn word(&mut self) {
        let mut length = 0;
        let mut word = String::new();
        while let Some(c) = self.peek(length) {
            if c.is_ascii_alphabetic() {
                word.push(c.to_ascii_lowercase());
            } else if c != '.'
                || self
                    .peek(length + 1)
                    .is_some_and(|n| n.is_ascii_digit() || n == '.')
            {
                break;
            }
            length += 1;
        }
        let not_applicable = word == "n"
            && self.peek(length) == Some('/')
            && self
                .peek(length + 1)
                .is_some_and(|c| c.eq_ignore_ascii_case(&'a'))
            && !self
                .peek(length + 2)
                .is_some_and(|c| c.is_ascii_alphanumeric());
        if not_applicable {
            self.push(Kind::Word(Word::Nothing), length + 2);
        } else if let Some(meant) = meaning(&word) {
            self.push(Kind::Word(meant), length);
        } else if let Some((unit, mark)) = glued_axis(&word)
            && self.peek(length - 1) != Some('.')
        {
            self.push(Kind::Word(unit), length - mark);
            self.push(Kind::Word(Word::Axis), mark);
        } else {
            let all = self.run(0, |c| c.is_ascii_alphanumeric() || c == '.');
            self.push(Kind::Unknown, all.max(length));
        }
    }

    /// Returns the length of an acuity that begins here.
    ///
    /// Without the word before it only 6/… and 20/… are acuities: `-2 3/4` and `-2 6/8` are
    /// powers that somebody wrote with a fraction, and are refused as such.
    fn acuity(&self) -> Option<usize> {
        let glued = self
            .at
            .checked_sub(1)
            .and_then(|i| self.text.get(i))
            .copied();
        if glued.is_some_and(|c| c.is_ascii_alphanumeric() || c == '.') {
            return None;
        }
        if [Word::Axis, Word::Addition, Word::Vertex, Word::Distance]
            .iter()
            .any(|w| self.last_is(*w))
        {
            return None;
        }
        let top = self.run(0, |c| c.is_ascii_digit());
        if self.peek(top) != Some('/') || !self.peek(top + 1)?.is_ascii_digit() {
            return None;
        }
        let bottom = self.run(top + 1, |c| c.is_ascii_digit() || c == '.');
        let part = |from: usize, n: usize| -> String {
            self.text.iter().skip(self.at + from).take(n).collect()
        };
        let (distance, letters) = (part(0, top), part(top + 1, bottom));
        let known = match distance.as_str() {
            "6" | "20" => self.last_is(Word::Acuity) || !matches!(letters.as_str(), "8" | "16"),
            other => {
                self.last_is(Word::Acuity) && other.parse().is_ok_and(|n: u8| (1..=20).contains(&n))
            }
        };
        let read = letters
            .parse()
            .is_ok_and(|n: f64| (1.0..=999.0).contains(&n));
        if !known || !read || letters.ends_with('.') {
            return None;
        }
        let mut length = top + 1 + bottom;
        if matches!(self.peek(length), Some('+' | '-'))
            && self.run(length + 1, |c| c.is_ascii_digit() || c == '.') == 1
            && self.peek(length + 1) != Some('.')
        {
            length += 2;
        }
        let ends = |c: char| !c.is_ascii_alphanumeric() && !matches!(c, PRISM | DEGREE | '/');
        self.peek(length).is_none_or(ends).then_some(length)
    }
}
