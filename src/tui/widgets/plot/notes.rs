//! Notes beside a drawing or below it, and texts cut to the room and the characters there are.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Line;
use unicode_width::UnicodeWidthStr;

use crate::tui::widgets::theme::Theme;
use crate::tui::widgets::{at, put, text};

/// From this many columns on the numbers stand at the side.
const SIDE_FROM: u16 = 96;
/// The most columns they take there.
const SIDE_MOST: usize = 44;
/// The rows a drawing keeps before its numbers get any.
const DRAWING_ROWS: u16 = 8;

/// Writes notes beside the drawing where there is room, below it otherwise, and returns what is
/// left for the drawing.
pub(super) fn notes(frame: &mut Frame<'_>, area: Rect, lines: &[String], theme: Theme) -> Rect {
    if area.width >= SIDE_FROM && !lines.is_empty() {
        let longest = lines.iter().map(|l| l.width()).max().unwrap_or(0);
        let side = u16::try_from(longest.min(SIDE_MOST)).unwrap_or(0);
        let [drawing, _, beside] = Layout::horizontal([
            Constraint::Min(0),
            Constraint::Length(2),
            Constraint::Length(side),
        ])
        .areas(area);
        // A line that goes on is drawn in a little, so that it is not taken for the next one.
        let lines = lines.iter().flat_map(|l| {
            let parts = wrapped(l, side.saturating_sub(2));
            let fits = l.width() <= usize::from(side);
            let whole = fits.then(|| l.clone());
            let parts = if fits { Vec::new() } else { parts };
            whole.into_iter().chain(
                parts.into_iter().enumerate().map(
                    |(i, p)| {
                        if i == 0 { p } else { format!("  {p}") }
                    },
                ),
            )
        });
        for (row, line) in (0..beside.height).zip(lines) {
            put(frame, at(beside, row), Line::raw(line));
        }
        return drawing;
    }
    let joined = joined(lines, usize::from(area.width), theme);
    let room = area
        .height
        .saturating_sub(DRAWING_ROWS)
        .min(area.height / 2);
    let rows = u16::try_from(joined.len()).unwrap_or(u16::MAX).min(room);
    let [drawing, below] =
        Layout::vertical([Constraint::Min(0), Constraint::Length(rows)]).areas(area);
    for (row, line) in (0..rows).zip(joined) {
        put(
            frame,
            at(below, row),
            Line::raw(cut(&line, area.width, theme)),
        );
    }
    drawing
}

/// Returns the notes run together into lines of at most a width.
pub(super) fn joined(notes: &[String], width: usize, theme: Theme) -> Vec<String> {
    let between = if theme.is_ascii() { " | " } else { " │ " };
    let mut lines: Vec<String> = Vec::new();
    for note in notes {
        match lines.last_mut() {
            Some(last) if last.width() + note.width() + 3 <= width => {
                last.push_str(between);
                last.push_str(note);
            }
            _ => lines.push(note.clone()),
        }
    }
    lines
}

/// Returns a text in the characters that the theme may use.
pub(super) fn plain(words: &str, theme: Theme) -> String {
    let words = crate::text::printable(words).into_owned();
    if !theme.is_ascii() {
        return words;
    }
    words
        .chars()
        .map(|c| match c {
            '°' => " deg".to_owned(),
            'Δ' => "pd".to_owned(),
            '–' | '—' | '−' => "-".to_owned(),
            c if c.is_ascii() => c.to_string(),
            _ => "?".to_owned(),
        })
        .collect()
}

/// Returns a text cut to a width in columns.
pub(super) fn cut(words: &str, width: u16, theme: Theme) -> String {
    let short = text::cut(words, width.into());
    if theme.is_ascii() {
        short.replace('…', "~")
    } else {
        short
    }
}

pub(super) fn wrapped(words: &str, width: u16) -> Vec<String> {
    text::wrap(words, width.into())
        .into_iter()
        .map(|l| l.replace('…', "~"))
        .collect()
}
