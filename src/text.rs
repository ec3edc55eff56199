//! Text that came from data, made safe to show.

use std::borrow::Cow;
use std::fmt::Write as _;

use unicode_normalization::UnicodeNormalization as _;

/// Whether a character changes the direction of the text around it, and so what a reader sees.
const fn is_bidi_control(c: char) -> bool {
    matches!(c, '\u{061c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// Whether a character breaks a line where a terminal or a reader may follow it.
const fn is_line_break(c: char) -> bool {
    matches!(
        c,
        '\n' | '\r' | '\t' | '\u{0b}' | '\u{0c}' | '\u{85}' | '\u{2028}' | '\u{2029}'
    )
}

/// Returns text as it may be drawn on one line: without control characters of either range and
/// without direction marks; line breaks and tabs become blanks.
pub fn printable(text: &str) -> Cow<'_, str> {
    let is_safe = |c: char| !(c.is_control() || is_bidi_control(c) || is_line_break(c));
    if text.chars().all(is_safe) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        if is_line_break(c) {
            out.push(' ');
        } else if is_safe(c) {
            out.push(c);
        }
    }
    Cow::Owned(out)
}

/// Whether a terminal shows nothing but ASCII: where `TERM` is `dumb`, or the language settings, looked up
/// by `of` in the order of POSIX, name a character set other than UTF-8. Where nothing is set, UTF-8 is
/// taken for granted.
pub(crate) fn is_ascii_terminal(of: &dyn Fn(&str) -> Option<String>) -> bool {
    if of("TERM").is_some_and(|term| term == "dumb") {
        return true;
    }
    let set = ["LC_ALL", "LC_CTYPE", "LANG"]
        .into_iter()
        .find_map(|name| of(name).filter(|value| !value.is_empty()));
    set.is_some_and(|locale| {
        let locale = locale.to_ascii_lowercase();
        !(locale.contains("utf-8") || locale.contains("utf8"))
    })
}

/// Returns text in ASCII: marks by what they look like or mean, letters without their accents, and a
/// question mark for anything else.
pub(crate) fn ascii(text: &str) -> Cow<'_, str> {
    if text.is_ascii() {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        if c.is_ascii() {
            out.push(c);
        } else if let Some(words) = mark_in_ascii(c) {
            out.push_str(words);
        } else {
            out.push(letter_in_ascii(c));
        }
    }
    Cow::Owned(out)
}

/// The letter without its accent; a question mark for what has none.
fn letter_in_ascii(c: char) -> char {
    std::iter::once(c)
        .nfd()
        .next()
        .filter(char::is_ascii)
        .unwrap_or('?')
}

/// A mark of the screens or of a text, in ASCII.
fn mark_in_ascii(c: char) -> Option<&'static str> {
    Some(match c {
        '·' => ".",
        '…' => "...",
        '→' => "->",
        '←' => "<-",
        '↑' => "^",
        '↓' => "v",
        '‐'..='―' | '−' | '─'..='━' => "-",
        '│' | '┃' => "|",
        '┌'..='╋' | '╭'..='╰' | '✛' => "+",
        '±' => "+-",
        '×' | '✕' | '✗' => "x",
        '°' => " deg",
        'Δ' => " prism D",
        '≥' => ">=",
        '≤' => "<=",
        '‘' | '’' => "'",
        '“' | '”' => "\"",
        '█'..='▏' | '■' => "#",
        '░'..='▓' | '⠀'..='⣿' => ":",
        '•' | '●' => "*",
        '✓' => "y",
        'ß' => "ss",
        'æ' => "ae",
        'Æ' => "AE",
        '○' | 'ø' => "o",
        'Ø' => "O",
        'đ' => "d",
        'ł' => "l",
        'Ł' => "L",
        'œ' => "oe",
        _ => return None,
    })
}

/// Returns JSON text with every character that a terminal might obey written as `\uXXXX`.
///
/// JSON itself escapes only what is below U+0020; the value that a program reads stays the same.
pub(crate) fn json_safe(json: String) -> String {
    let is_unsafe =
        |c: char| matches!(c, '\u{7f}'..='\u{9f}' | '\u{2028}' | '\u{2029}') || is_bidi_control(c);
    if !json.chars().any(is_unsafe) {
        return json;
    }
    let mut out = String::with_capacity(json.len() + 16);
    for c in json.chars() {
        if is_unsafe(c) {
            // All of them lie in the basic plane, so four digits always do; a String takes every write.
            let _ = write!(out, "\\u{:04x}", u32::from(c));
        } else {
            out.push(c);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{ascii, is_ascii_terminal, json_safe, printable};

    #[test]
    fn a_terminal_of_another_character_set_gets_nothing_but_ascii() {
        for (set, is_ascii) in [
            (vec![], false),
            (vec![("LANG", "C")], true),
            (vec![("LANG", "en_GB.ISO-8859-1")], true),
            (vec![("LANG", "C"), ("LC_ALL", "en_GB.UTF-8")], false),
            (vec![("LANG", "en_GB.UTF-8"), ("LC_CTYPE", "POSIX")], true),
            (vec![("LANG", "de_DE.utf8"), ("TERM", "dumb")], true),
        ] {
            let of = |name: &str| {
                let found = set.iter().find(|(n, _)| *n == name);
                found.map(|(_, value)| (*value).to_owned())
            };
            assert_eq!(is_ascii_terminal(&of), is_ascii, "{set:?}");
        }
        assert_eq!(ascii("Zoë · 12 → 13 mm, 8°"), "Zoe . 12 -> 13 mm, 8 deg");
        assert_eq!(ascii("明 ─"), "? -");
    }

    #[test]
    fn control_and_direction_characters_are_not_drawn() {
        assert_eq!(
            printable("A\u{1b}[2Jb\u{9b}31m\u{202e}c\u{7f}"),
            "A[2Jb31mc"
        );
        assert_eq!(printable("one\ntwo\tthree"), "one two three");
        assert_eq!(printable("Zoë Ñandú 明"), "Zoë Ñandú 明");
    }

    #[test]
    fn escaped_json_reads_back_as_the_same_value() {
        let value = serde_json::json!({"name": "a\u{1b}b\u{9b}c\u{202e}d\u{7f}e\u{2028}f"});
        let safe = json_safe(value.to_string());
        assert!(safe.is_ascii(), "{safe}");
        assert_eq!(
            serde_json::from_str::<serde_json::Value>(&safe).ok(),
            Some(value)
        );
    }
}
