//! One line of text being typed.

use tui_input::{Input, InputRequest};

use super::key::{Code, Key};
use super::text::one_line;
use crate::job::fields::clean;

/// The longest text that is taken, in characters.
const LONGEST: usize = 500;

/// The separator inside a scanned code as it is shown: a line holds no control characters.
const SHOWN_SEPARATOR: char = '\u{241d}';

/// Whether a key is the separator inside a scanned code: terminals send it as ctrl-5 or ctrl-].
const fn is_separator(key: Key) -> bool {
    key.ctrl && !key.alt && matches!(key.code, Code::Char('5' | ']'))
}

/// A line of text with a cursor.
#[derive(Debug, Clone, Default)]
pub struct Line(Input);

impl Line {
    /// Returns a line that holds a text, the cursor behind it.
    pub fn of(text: &str) -> Self {
        Self(Input::new(clean(text)))
    }

    /// The text.
    pub fn text(&self) -> &str {
        self.0.value()
    }

    /// How many columns lie before the cursor.
    pub fn cursor_column(&self) -> usize {
        self.0.visual_cursor()
    }

    /// Takes a key; says whether it was one for a line.
    pub fn key(&mut self, key: Key) -> bool {
        let request = if let Some(c) = key.types() {
            if c.is_control() || self.0.value().chars().count() >= LONGEST {
                return true;
            }
            InputRequest::InsertChar(c)
        } else if is_separator(key) {
            InputRequest::InsertChar(SHOWN_SEPARATOR)
        } else {
            match (key.code, key.ctrl) {
                (Code::Named("backspace"), false) => InputRequest::DeletePrevChar,
                (Code::Named("backspace") | Code::Char('w'), true) => InputRequest::DeletePrevWord,
                (Code::Named("delete"), _) => InputRequest::DeleteNextChar,
                (Code::Named("left"), false) => InputRequest::GoToPrevChar,
                (Code::Named("right"), false) => InputRequest::GoToNextChar,
                (Code::Named("left"), true) => InputRequest::GoToPrevWord,
                (Code::Named("right"), true) => InputRequest::GoToNextWord,
                (Code::Named("home"), _) | (Code::Char('a'), true) => InputRequest::GoToStart,
                (Code::Named("end"), _) | (Code::Char('e'), true) => InputRequest::GoToEnd,
                (Code::Char('u'), true) => InputRequest::DeleteLine,
                _ => return false,
            }
        };
        self.0.handle(request);
        true
    }

    /// Takes pasted text at the cursor, as one line.
    pub fn paste(&mut self, text: &str) {
        let text = text.replace('\u{1d}', &SHOWN_SEPARATOR.to_string());
        for c in one_line(&text).chars() {
            if self.0.value().chars().count() < LONGEST {
                self.0.handle(InputRequest::InsertChar(c));
            }
        }
    }
}
