//! Pictures of numbers: curves, bars and lenses in section, with their numbers beside or below.
//!
//! Braille where the terminal has it, plain characters otherwise. Nothing is told by colour alone:
//! curves end in a digit, points are letters, limits are dashed, and each is explained.

mod bars;
mod legend;
mod raster;
mod section;
mod ticks;
mod window;
mod xy;

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Line;
use unicode_width::UnicodeWidthStr;

use super::theme::{Role, Theme};
use super::{at, put, text};
use crate::views::plot::Picture;

/// From this many columns on the numbers stand at the side.
const SIDE_FROM: u16 = 96;
/// The most columns they take there.
const SIDE_MOST: usize = 44;
/// The rows a drawing keeps before its numbers get any.
const DRAWING_ROWS: u16 = 8;

/// Draws a picture with its title and its numbers.
///
/// Meant for 56 by 14 cells and more; in less the numbers go first, then the axes.
pub(crate) fn draw(frame: &mut Frame<'_>, area: Rect, picture: &Picture, theme: Theme) {
    let area = area.intersection(frame.area());
    if area.is_empty() {
        return;
    }
    let title = match picture {
        Picture::Plot(plot) => plot.title.as_str(),
        Picture::Bars(bars) => bars.title.as_str(),
        Picture::Sections { title, .. } => title.as_str(),
        Picture::Missing(why) => {
            let why = plain(why, theme);
            for (row, line) in (0..area.height).zip(wrapped(&why, area.width)) {
                put(frame, at(area, row), Line::raw(line));
            }
            return;
        }
    };
    let [head, body] = Layout::vertical([
        Constraint::Length(u16::from(area.height > 4)),
        Constraint::Min(0),
    ])
    .areas(area);
    let title = cut(&plain(title, theme), area.width, theme);
    put(
        frame,
        at(head, 0),
        Line::styled(title, theme.style(Role::Title)),
    );
    match picture {
        Picture::Plot(plot) => xy::draw(frame, body, plot, theme),
        Picture::Bars(bars) => bars::draw(frame, body, bars, theme),
        Picture::Sections { sections, .. } => section::draw(frame, body, sections, theme),
        Picture::Missing(_) => {}
    }
}

/// Writes notes beside the drawing where there is room, below it otherwise, and returns what is
/// left for the drawing.
fn notes(frame: &mut Frame<'_>, area: Rect, lines: &[String], theme: Theme) -> Rect {
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
fn joined(notes: &[String], width: usize, theme: Theme) -> Vec<String> {
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
fn plain(words: &str, theme: Theme) -> String {
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
fn cut(words: &str, width: u16, theme: Theme) -> String {
    let short = text::cut(words, width.into());
    if theme.is_ascii() {
        short.replace('…', "~")
    } else {
        short
    }
}

fn wrapped(words: &str, width: u16) -> Vec<String> {
    text::wrap(words, width.into())
        .into_iter()
        .map(|l| l.replace('…', "~"))
        .collect()
}

#[cfg(test)]
mod tests;
