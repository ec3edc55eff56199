//! Text that came from data, made safe to show.

use std::borrow::Cow;
use std::fmt::Write as _;

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
    use super::{json_safe, printable};

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
