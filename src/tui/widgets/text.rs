//! Text on a screen: how wide it is, where it is cut, what of it may be drawn.

use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

use crate::job::fields::clean;

/// Returns the text cut to a width in columns, with a mark where something was left out.
pub(crate) fn cut(text: &str, width: usize) -> String {
    let text = clean(text);
    if text.width() <= width {
        return text;
    }
    let mut out = String::new();
    let mut used = 0;
    for g in text.graphemes(true) {
        let w = g.width();
        if used + w + 1 > width {
            break;
        }
        out.push_str(g);
        used += w;
    }
    if width > 0 {
        out.push('…');
    }
    out
}

/// Returns the text cut or filled up with blanks to exactly a width.
pub(crate) fn fit(text: &str, width: usize) -> String {
    let mut out = cut(text, width);
    let missing = width.saturating_sub(out.width());
    out.extend(std::iter::repeat_n(' ', missing));
    out
}

/// Returns the part of a text being typed that has the cursor in it, filled up to exactly a width,
/// and the column of the cursor there. Where the beginning is cut a mark is in its place: a
/// minus sign must not go out of sight unseen.
pub(crate) fn typed(text: &str, cursor_column: usize, width: usize) -> (String, usize) {
    let text = clean(text);
    let room = width.saturating_sub(1);
    if cursor_column <= room {
        return (fit(&text, width), cursor_column);
    }
    // The mark takes one column.
    let skipped = cursor_column - room + 1;
    let mut column = 0;
    let mut shown = String::from("…");
    for g in text.graphemes(true) {
        if column >= skipped {
            shown.push_str(g);
        }
        column += g.width();
    }
    (fit(&shown, width), room)
}

/// Returns the text filled up on the left to exactly a width.
pub(crate) fn flush_end(text: &str, width: usize) -> String {
    let out = cut(text, width);
    let missing = width.saturating_sub(out.width());
    format!("{}{out}", " ".repeat(missing))
}

/// Returns the text broken into lines of at most a width, behind a comma or semicolon where possible:
/// a power stays in one line.
pub(crate) fn wrap_parts(text: &str, width: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for part in clean(text).split_inclusive([',', ';']) {
        let part = part.trim();
        match lines.last_mut() {
            Some(line) if line.width() + 1 + part.width() <= width => {
                line.push(' ');
                line.push_str(part);
            }
            _ => lines.extend(wrap(part, width)),
        }
    }
    lines
}

/// Returns the text broken into lines of at most a width, between words where possible.
pub(crate) fn wrap(text: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in clean(text).split_whitespace() {
        let gap = usize::from(!line.is_empty());
        if !line.is_empty() && line.width() + gap + word.width() > width {
            lines.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(&cut(word, width));
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// Returns a row's first visible place so that the selected one is in view.
pub(crate) fn scroll(selected: usize, count: usize, height: usize) -> usize {
    if height == 0 || count <= height {
        return 0;
    }
    selected.saturating_sub(height / 2).min(count - height)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_beginning_that_is_cut_is_marked_and_the_cursor_stays_inside() {
        assert_eq!(typed("-6.25", 5, 8), ("-6.25   ".to_owned(), 5));
        assert_eq!(
            typed("-6.25/-0.75x190", 15, 15),
            ("….25/-0.75x190 ".to_owned(), 14)
        );
        assert_eq!(typed("-6.25/-0.75x190", 0, 8), ("-6.25/-…".to_owned(), 0));
    }

    proptest! {
        #[test]
        fn what_is_typed_fills_its_place_exactly(text in "[a-zé0-9.-]{0,40}", at in 0usize..40, width in 2usize..30) {
            let at = at.min(text.chars().count());
            let (shown, column) = typed(&text, at, width);
            prop_assert_eq!(shown.width(), width);
            prop_assert!(column < width);
            prop_assert!(shown.starts_with(text.chars().next().unwrap_or(' ')) || shown.starts_with('…'));
        }
    }
}
