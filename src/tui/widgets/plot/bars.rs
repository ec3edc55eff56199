//! Bars with their words, those of one unit on one scale.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

use super::notes::{cut, plain};
use super::raster::is_drawable;
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{at, put, text};
use crate::views::plot::{Bar, Bars};

/// The least columns of a bar.
const LEAST: usize = 8;
/// The most columns of the names.
const NAMES: usize = 26;

/// Draws the bars, one a row; below them how long the longest of each unit is.
pub(super) fn draw(frame: &mut Frame<'_>, area: Rect, bars: &Bars, theme: Theme) {
    let width = usize::from(area.width);
    let label = |b: &Bar| plain(&b.label, theme);
    let names = bars.bars.iter().map(|b| label(b).width()).max();
    let names = names.unwrap_or(0).min(NAMES).min(width / 3);
    let words = bars
        .bars
        .iter()
        .map(|b| plain(&b.text, theme).width())
        .max();
    let words = words.unwrap_or(0);
    // Words at the end of the row where they fit beside a bar; else in a row of their own where
    // there are rows enough; else the bars go, the words stay.
    let room = width.saturating_sub(names + words + 5);
    let count = u16::try_from(bars.bars.len()).unwrap_or(u16::MAX);
    let is_double = room < LEAST && width >= 40 && count.saturating_mul(2) <= area.height;
    let columns = match (room >= LEAST, is_double) {
        (true, _) => room,
        (false, true) => width.saturating_sub(names + 3),
        (false, false) => 0,
    };
    let each = if is_double { 2 } else { 1 };
    let scale = scales(&bars.bars);
    let (full, arrow) = if theme.is_ascii() {
        ("#", ">")
    } else {
        ("█", "▶")
    };
    for (row, bar) in (0..area.height).step_by(each.into()).zip(&bars.bars) {
        let whole = scale.iter().find(|s| s.0 == bar.unit).map(|s| s.1);
        let filled = match (bar.value.filter(|v| is_drawable(*v)), whole) {
            (Some(v), Some(whole)) => full.repeat(cells_of(v / whole, columns)),
            // Without an end the bar runs through, and its arrow says that it goes on.
            _ if columns > 0 => format!("{}{arrow}", full.repeat(columns - 1)),
            _ => String::new(),
        };
        let style = theme.style(if bar.strong {
            Role::Warning
        } else {
            Role::Value
        });
        let sign = match (bar.strong, theme.is_ascii()) {
            (false, _) => " ",
            (true, true) => "!",
            (true, false) => "▲",
        };
        let name = text::fit(&label(bar), names).replace('…', "~");
        let mut line = vec![Span::styled(format!("{sign} {name} "), style)];
        if columns > 0 {
            line.push(Span::styled(
                text::fit(&filled, columns),
                theme.style(Role::Label),
            ));
            line.push(Span::raw(" "));
        }
        let said = plain(&bar.text, theme);
        if is_double {
            let indent = u16::try_from(names + 3).unwrap_or(u16::MAX);
            let said = cut(&said, area.width.saturating_sub(indent), theme);
            let said = format!("{}{said}", " ".repeat(indent.into()));
            put(frame, at(area, row + 1), Line::styled(said, style));
        } else {
            let taken = u16::try_from(names + columns + 4).unwrap_or(u16::MAX);
            let free = area.width.saturating_sub(taken);
            line.push(Span::styled(cut(&said, free, theme), style));
        }
        put(frame, at(area, row), Line::from(line));
    }
    let below = count.saturating_mul(each).saturating_add(1);
    if columns > 0 && below < area.height && !scale.is_empty() {
        let longest: Vec<String> = scale
            .iter()
            .map(|(u, v)| format!("{:.1} {u}", (v * 10.0 + 1e-6).floor() / 10.0))
            .collect();
        let said = format!("full length: {}; an arrow has no end", longest.join(", "));
        let said = cut(&plain(&said, theme), area.width, theme);
        put(
            frame,
            at(area, below),
            Line::styled(said, theme.style(Role::Muted)),
        );
    }
}

/// Returns the longest bar of each unit.
fn scales(bars: &[Bar]) -> Vec<(&'static str, f64)> {
    let mut all: Vec<(&'static str, f64)> = Vec::new();
    for bar in bars {
        let Some(v) = bar.value.filter(|v| is_drawable(*v) && *v > 0.0) else {
            continue;
        };
        match all.iter_mut().find(|s| s.0 == bar.unit) {
            Some(scale) => scale.1 = scale.1.max(v),
            None => all.push((bar.unit, v)),
        }
    }
    all
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "a share of 0 to 1 of a number of columns, rounded"
)]
fn cells_of(share: f64, cells: usize) -> usize {
    let cells_full = (share.clamp(0.0, 1.0) * cells as f64).round() as usize;
    // The shortest bar is still one.
    cells_full.max(1).min(cells)
}
