//! A PIN or passphrase while it is typed and on its way to the book: never shown, never printed,
//! overwritten when it is done with.

use std::fmt;

use zeroize::Zeroizing;

use super::key::{Code, Key};

/// Room for the longest one, bytes: the text is never moved while it grows, so that no copy is
/// left behind in memory.
const ROOM: usize = 256;

/// A PIN or passphrase; what it says is seen by nobody but the book.
#[derive(Clone, PartialEq, Eq)]
pub struct Secret(Zeroizing<String>);

impl Default for Secret {
    fn default() -> Self {
        Self(Zeroizing::new(String::with_capacity(ROOM)))
    }
}

impl fmt::Debug for Secret {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Secret")
    }
}

impl Secret {
    /// The text, for the book alone.
    pub(crate) fn text(&self) -> &str {
        &self.0
    }

    /// How many characters are typed: as many dots are drawn.
    pub fn count(&self) -> usize {
        self.0.chars().count()
    }

    /// Takes a key; says whether it was one for the line.
    pub(crate) fn key(&mut self, key: Key) -> bool {
        if let Some(c) = key.types() {
            self.push(c);
            return true;
        }
        match (key.code, key.ctrl) {
            (Code::Named("backspace"), false) => drop(self.0.pop()),
            (Code::Char('u'), true) => *self = Self::default(),
            _ => return false,
        }
        true
    }

    /// Takes pasted text, up to its first line's end.
    pub(crate) fn paste(&mut self, text: &str) {
        for c in text.lines().next().unwrap_or_default().chars() {
            self.push(c);
        }
    }

    fn push(&mut self, c: char) {
        if !c.is_control() && self.0.len() + c.len_utf8() <= ROOM {
            self.0.push(c);
        }
    }
}

/// A secret that is being set.
#[derive(Debug, Clone, PartialEq)]
pub struct NewSecret {
    /// Whose.
    pub name: String,
    /// Who sets it.
    pub by: String,
    /// What proves the one who sets it.
    pub present: Option<Secret>,
    /// Whether signing in is turned on with it.
    pub turn_on: bool,
}
