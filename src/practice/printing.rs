//! How a practice prints: the size of its paper and the programs that print and show a sheet.

use serde::{Deserialize, Serialize};

/// A size of paper, upright.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Paper {
    /// ISO 216 A4, 210 by 297 mm.
    #[default]
    A4,
    /// Letter, 8.5 by 11 inches.
    Letter,
}

impl Paper {
    /// Every size.
    pub const ALL: [Self; 2] = [Self::A4, Self::Letter];

    /// The word it is set by.
    pub const fn word(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::Letter => "letter",
        }
    }

    /// Width and height, mm.
    pub const fn size_mm(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        }
    }
}

/// The longest command, characters.
const LONGEST: usize = 300;

/// How sheets are printed and shown.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Printing {
    /// Size of the paper.
    pub paper: Paper,
    /// The program that prints a sheet, with its arguments; `{}` is replaced by the file. Empty: none.
    pub command: String,
    /// The program that shows a sheet, in the same way.
    pub viewer: String,
}

/// Returns a command's program and arguments for a file; `None` where none is set.
///
/// Words are parted by blanks; quotes, single or double, hold a word with blanks together. There is
/// no shell and nothing else has a meaning, so that no name of a file can become a command. `{}` is
/// the file; without it the file is the last argument.
///
/// # Errors
/// One sentence when a quote is not closed or a control character is in it.
pub(crate) fn command_words(command: &str, file: &str) -> Result<Option<Vec<String>>, String> {
    let mut words: Vec<String> = Vec::new();
    let mut word: Option<String> = None;
    let mut quote: Option<char> = None;
    for c in command.chars() {
        if c.is_control() {
            return Err("A command is one line of words.".to_owned());
        }
        match quote {
            Some(q) if c == q => quote = None,
            None if c == '"' || c == '\'' => {
                quote = Some(c);
                word.get_or_insert_default();
            }
            None if c.is_whitespace() => words.extend(word.take()),
            _ => word.get_or_insert_default().push(c),
        }
    }
    if let Some(q) = quote {
        return Err(format!("The quote {q} in the command is not closed."));
    }
    words.extend(word);
    if words.is_empty() {
        return Ok(None);
    }
    let names_file = words.iter().skip(1).any(|w| w.contains("{}"));
    // The program itself is never a part of the file's name.
    for word in words.iter_mut().skip(1) {
        *word = word.replace("{}", file);
    }
    if !names_file {
        words.push(file.to_owned());
    }
    Ok(Some(words))
}

/// Returns a command that can be kept.
///
/// # Errors
/// One sentence: what can be written instead.
pub(super) fn checked(text: &str) -> Result<String, String> {
    if text.chars().count() > LONGEST {
        return Err(format!("A command has up to {LONGEST} characters."));
    }
    command_words(text, "")?;
    Ok(text.to_owned())
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::{checked, command_words};

    #[test]
    fn words_are_parted_at_blanks_and_held_by_quotes() {
        let words = |c| command_words(c, "/tmp/a b.pdf").unwrap().unwrap();
        assert_eq!(words("lp"), ["lp", "/tmp/a b.pdf"]);
        assert_eq!(
            words("lp -d 'front desk' {}"),
            ["lp", "-d", "front desk", "/tmp/a b.pdf"]
        );
        assert_eq!(words("\"/my tools/print\" --in={} ''").len(), 3);
        assert_eq!(command_words("  ", "x").unwrap(), None);
        assert_eq!(words("{}"), ["{}", "/tmp/a b.pdf"]);
    }

    #[test]
    fn what_a_shell_would_obey_is_a_plain_word() {
        let words = command_words("lp; rm $(x) `y` |z", "f").unwrap().unwrap();
        assert_eq!(words, ["lp;", "rm", "$(x)", "`y`", "|z", "f"]);
    }

    #[test]
    fn an_open_quote_and_a_line_end_are_refused() {
        assert!(command_words("lp 'x", "f").unwrap_err().contains("quote '"));
        assert!(checked("lp\nx").is_err());
        assert!(checked(&"x".repeat(301)).is_err());
    }
}
