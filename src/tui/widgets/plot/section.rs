//! Lenses in section, side by side to one scale in true millimetres.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

use super::notes::{cut, plain, wrapped};
use super::raster::{Raster, Window, is_drawable};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{at, put};
use crate::views::plot::Section;

/// Columns between lenses.
const BETWEEN: u16 = 2;
/// Rows of a lens beside its drawing: its name and its sides.
const HEAD: u16 = 2;
/// A terminal cell is about twice as high as wide.
const CELL_HEIGHT: f64 = 2.0;

/// How the lenses are laid out.
#[derive(Debug, Clone, Copy)]
struct Grid {
    across: u16,
    cell: (u16, u16),
    /// Millimetres of a column.
    mm: f64,
}

/// Draws the lenses in as many rows and columns as make them largest.
pub(super) fn draw(frame: &mut Frame<'_>, area: Rect, sections: &[Section], theme: Theme) {
    let count = u16::try_from(sections.len()).unwrap_or(0);
    let [(left, right), (low, high)] = extent(sections);
    let (wide, deep) = (right - left, high - low);
    let most = sections.iter().map(|s| s.numbers.len()).max().unwrap_or(0);
    let rows_of_numbers = u16::try_from(most.div_ceil(2)).unwrap_or(0);
    let beside = HEAD + rows_of_numbers;
    let grids = (1..=count).filter_map(|across| {
        let down = count.div_ceil(across);
        let cell = (
            (area.width.saturating_sub(BETWEEN * (across - 1))) / across,
            area.height / down,
        );
        let rows = cell.1.checked_sub(beside + 1)?;
        if cell.0 < 16 || rows < 2 {
            return None;
        }
        let mm = (wide / f64::from(cell.0)).max(deep / (f64::from(rows) * CELL_HEIGHT));
        Some(Grid { across, cell, mm })
    });
    let best = grids.min_by(|a, b| a.mm.total_cmp(&b.mm));
    let Some(grid) = best.filter(|_| is_drawable(wide) && wide > 0.0) else {
        in_words(frame, area, sections, theme);
        return;
    };
    for (i, section) in (0u16..).zip(sections) {
        let (column, row) = (i % grid.across, i / grid.across);
        let here = Rect {
            x: area.x + column * (grid.cell.0 + BETWEEN),
            y: area.y + row * grid.cell.1,
            width: grid.cell.0,
            height: grid.cell.1,
        };
        one(
            frame,
            here.intersection(area),
            section,
            (grid, (left, high)),
            theme,
        );
    }
}

/// Draws one lens: its name, its section, which side is which, its numbers.
fn one(
    frame: &mut Frame<'_>,
    area: Rect,
    section: &Section,
    (grid, (left, high)): (Grid, (f64, f64)),
    theme: Theme,
) {
    let name = cut(&plain(&section.name, theme), area.width, theme);
    put(
        frame,
        at(area, 0),
        Line::styled(name, theme.style(Role::Title)),
    );
    let mut row = 1;
    if !section.front.is_empty() {
        let deepest = section.back.iter().map(|p| p.1).filter(|v| is_drawable(*v));
        let low = deepest.fold(0.0, f64::min);
        // Rows enough for this lens, never more than there are.
        let rows = rows_for((high - low) / (grid.mm * CELL_HEIGHT));
        let rows = rows.clamp(2, area.height.saturating_sub(HEAD + 1).max(2));
        let canvas = Rect {
            y: area.y + 1,
            height: rows.min(area.height.saturating_sub(1)),
            ..area
        };
        let window = Window {
            x: (left, left + grid.mm * f64::from(canvas.width)),
            y: (
                high - grid.mm * CELL_HEIGHT * f64::from(canvas.height),
                high,
            ),
        };
        let mut raster = Raster::new(canvas, window, theme.is_ascii());
        for x in raster.columns_of_dots() {
            if let (Some(front), Some(back)) =
                (between(&section.front, x), between(&section.back, x))
            {
                raster.fill(x, back, front, '#');
            }
        }
        raster.show(frame, canvas, theme.style(Role::Value));
        row += canvas.height;
        let sides = "temporal | nasal";
        let wide = section.front.last().map_or(0.0, |p| p.0) - left;
        let columns = rows_for(wide / grid.mm).min(area.width);
        let gap = usize::from(columns).saturating_sub(13);
        let sides = if gap > 0 {
            format!("temporal{}nasal", " ".repeat(gap))
        } else {
            sides.to_owned()
        };
        put(
            frame,
            at(area, row),
            Line::styled(cut(&sides, area.width, theme), theme.style(Role::Muted)),
        );
        row += 1;
    }
    let numbers: Vec<String> = section
        .numbers
        .iter()
        .map(|n| plain(&format!("{} {}", n.label, n.text), theme))
        .collect();
    let lines = super::notes::joined(&numbers, area.width.into(), theme);
    for line in lines.iter().flat_map(|l| wrapped(l, area.width)) {
        put(frame, at(area, row), Line::raw(line));
        row += 1;
    }
}

/// Where there is no room to draw, the numbers alone.
fn in_words(frame: &mut Frame<'_>, area: Rect, sections: &[Section], theme: Theme) {
    for (row, section) in (0..area.height).zip(sections) {
        let numbers: Vec<String> = section
            .numbers
            .iter()
            .map(|n| format!("{} {}", n.label, n.text))
            .collect();
        let line = plain(&format!("{}: {}", section.name, numbers.join(", ")), theme);
        put(
            frame,
            at(area, row),
            Line::raw(cut(&line, area.width, theme)),
        );
    }
}

/// Returns the value of a profile at x, none beyond its ends.
fn between(profile: &[(f64, f64)], x: f64) -> Option<f64> {
    profile.windows(2).find_map(|pair| match pair {
        [a, b] if a.0 <= x && x <= b.0 && b.0 > a.0 => {
            Some(a.1 + (b.1 - a.1) * (x - a.0) / (b.0 - a.0))
        }
        _ => None,
    })
}

/// Returns what all lenses take up: across, and from the deepest back to the highest front.
fn extent(sections: &[Section]) -> [(f64, f64); 2] {
    let mut x = (f64::INFINITY, f64::NEG_INFINITY);
    let mut y = (f64::INFINITY, f64::NEG_INFINITY);
    let points = sections.iter().flat_map(|s| s.front.iter().chain(&s.back));
    for p in points.filter(|p| is_drawable(p.0) && is_drawable(p.1)) {
        x = (x.0.min(p.0), x.1.max(p.0));
        y = (y.0.min(p.1), y.1.max(p.1));
    }
    [x, y]
}

#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to what a terminal has"
)]
fn rows_for(cells: f64) -> u16 {
    if cells.is_finite() {
        cells.ceil().clamp(0.0, 1000.0) as u16
    } else {
        0
    }
}
