//! A key as the program names it: `a`, `A`, `ctrl-g`, `alt-1`, `f5`, `enter`, `page-down`.
//!
//! The terminal's own key type stays in [`crate::tui::term`]; key files and help use these names.

use std::fmt;

/// Which key.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Code {
    /// A character as the keyboard layout gives it.
    Char(char),
    /// A function key.
    F(u8),
    /// A key with a name.
    Named(&'static str),
}

/// A key with what is held down beside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Key {
    /// Which key.
    pub code: Code,
    /// Whether control is held.
    pub ctrl: bool,
    /// Whether alt is held.
    pub alt: bool,
}

/// Every key that has a name.
pub const NAMED: &[&str] = &[
    "enter",
    "esc",
    "tab",
    "shift-tab",
    "backspace",
    "delete",
    "up",
    "down",
    "left",
    "right",
    "home",
    "end",
    "page-up",
    "page-down",
];

/// A name that is no key's.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "{0:?} is no key: write one character, or a name such as enter, page-down, f5, with ctrl- or alt- before it"
)]
pub struct NoSuchKey(pub String);

impl Key {
    /// Returns a character key.
    pub const fn char(c: char) -> Self {
        Self {
            code: Code::Char(c),
            ctrl: false,
            alt: false,
        }
    }

    /// Reads a key's name.
    ///
    /// # Errors
    /// [`NoSuchKey`] with the name as it was written.
    pub fn parse(name: &str) -> Result<Self, NoSuchKey> {
        let mut rest = name;
        let (mut ctrl, mut alt) = (false, false);
        loop {
            if let Some(r) = rest.strip_prefix("ctrl-").filter(|r| !r.is_empty()) {
                (ctrl, rest) = (true, r);
            } else if let Some(r) = rest.strip_prefix("alt-").filter(|r| !r.is_empty()) {
                (alt, rest) = (true, r);
            } else {
                break;
            }
        }
        let mut chars = rest.chars();
        let code = match (chars.next(), chars.as_str()) {
            (Some(c), "") => Code::Char(c),
            _ if rest == "space" => Code::Char(' '),
            (Some('f'), n) if n.parse::<u8>().is_ok_and(|n| (1..=12).contains(&n)) => {
                Code::F(n.parse().unwrap_or(1))
            }
            _ => Code::Named(
                NAMED
                    .iter()
                    .find(|n| **n == rest)
                    .ok_or_else(|| NoSuchKey(name.to_owned()))?,
            ),
        };
        Ok(Self { code, ctrl, alt })
    }

    /// The character the key types, when it types one.
    ///
    /// Control and alt together are how several layouts reach `@`, `{` or `\`, so both at once type.
    pub const fn types(self) -> Option<char> {
        match self.code {
            Code::Char(c) if self.ctrl == self.alt => Some(c),
            _ => None,
        }
    }

    /// Whether this is the named key without control or alt.
    pub fn is(self, name: &str) -> bool {
        !self.ctrl && !self.alt && matches!(self.code, Code::Named(n) if n == name)
    }
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.ctrl {
            f.write_str("ctrl-")?;
        }
        if self.alt {
            f.write_str("alt-")?;
        }
        match self.code {
            Code::Char(' ') => f.write_str("space"),
            Code::Char(c) => write!(f, "{c}"),
            Code::F(n) => write!(f, "f{n}"),
            Code::Named(n) => f.write_str(n),
        }
    }
}
