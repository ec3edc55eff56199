//! Text made safe to keep and to draw.

/// Returns text without control characters, C1 controls and characters that turn the direction of
/// writing; tabs and line breaks become blanks.
///
/// A terminal obeys the first two, and the last can make one value look like another.
pub(crate) fn clean(text: &str) -> String {
    text.chars()
        .filter_map(|c| match c {
            '\t' | '\n' | '\r' | '\u{85}' | '\u{2028}' | '\u{2029}' => Some(' '),
            c if is_unsafe(c) => None,
            c => Some(c),
        })
        .collect()
}

/// Returns text over several lines, each of them cleaned.
pub(super) fn clean_lines(text: &str) -> String {
    text.lines().map(clean).collect::<Vec<_>>().join("\n")
}

/// Whether a character is a control or changes the direction of writing.
fn is_unsafe(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{61c}' | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn escapes_and_turned_writing_do_not_get_through() {
        assert_eq!(
            clean("a\u{1b}[2Jb\u{9b}1mc\u{202e}d\u{7}\te"),
            "a[2Jb1mcd e"
        );
        assert_eq!(clean_lines("a\u{1b}\nb"), "a\nb");
    }
}
