//! Text that comes from outside: what of it may be shown or kept.

/// Returns the text without control characters and without those that turn writing round.
///
/// Data may hold escape sequences or bidirectional overrides; on a terminal the first would act and
/// the second would show a number the wrong way round.
pub fn clean(text: &str) -> String {
    text.chars().filter(|c| !is_hidden(*c)).collect()
}

/// Returns one line of pasted text: breaks become single blanks, hidden characters go.
pub fn one_line(text: &str) -> String {
    let spaced: String = text
        .chars()
        .map(|c| if matches!(c, '\n' | '\r' | '\t') { ' ' } else { c })
        .collect();
    let joined = spaced.split(' ').filter(|w| !w.is_empty()).collect::<Vec<_>>().join(" ");
    clean(&joined)
}

fn is_hidden(c: char) -> bool {
    c.is_control()
        || matches!(
            c,
            '\u{200b}'..='\u{200f}'
                | '\u{202a}'..='\u{202e}'
                | '\u{2060}'..='\u{2069}'
                | '\u{feff}'
                | '\u{fff9}'..='\u{fffb}'
        )
}

#[cfg(test)]
mod tests {
    use super::{clean, one_line};

    #[test]
    fn escape_sequences_and_overrides_do_not_survive() {
        assert_eq!(clean("a\u{1b}[31mb\u{202e}c\u{9b}d\u{7}"), "a[31mbcd");
    }

    #[test]
    fn pasted_lines_become_one() {
        assert_eq!(one_line("  Ada\r\n\tBlom \u{1b} "), "Ada Blom");
    }
}
