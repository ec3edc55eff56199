//! Text that comes from outside, made fit for one line.

use crate::form::clean;

/// Returns one line of pasted text: breaks become single blanks, hidden characters go.
pub fn one_line(text: &str) -> String {
    clean(text).split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::one_line;

    #[test]
    fn pasted_lines_become_one() {
        assert_eq!(one_line("  Ada\r\n\tBlom \u{1b} "), "Ada Blom");
    }
}
