//! Dots in cells: braille, two across and four down, or one plain character each.
//!
//! Marks and dots use the same cells, so that a letter is exactly where its point lies.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

/// Values larger than this are no place on an axis.
const FARTHEST: f64 = 1e9;

/// The part of the plane that is seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Window {
    /// From left to right.
    pub x: (f64, f64),
    /// From below to above.
    pub y: (f64, f64),
}

/// How a line is stroked: so many dots on, so many off; in plain characters this one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stroke {
    /// Dots on.
    pub on: u32,
    /// Dots off.
    pub off: u32,
    /// The plain character.
    pub plain: char,
}

/// A drawing of dots.
#[derive(Debug)]
pub(super) struct Raster {
    columns: usize,
    rows: usize,
    /// Dots across and down a cell.
    dots: (usize, usize),
    /// Of each cell: which dots, or which character.
    cells: Vec<u32>,
    window: Window,
}

/// The bits of a braille cell by row and column (Unicode block 2800).
const BRAILLE: [[u32; 2]; 4] = [[0x01, 0x08], [0x02, 0x10], [0x04, 0x20], [0x40, 0x80]];

/// Whether a number has a place on an axis.
pub(super) fn is_drawable(v: f64) -> bool {
    v.is_finite() && v.abs() <= FARTHEST
}

impl Raster {
    pub(super) fn new(area: Rect, window: Window, ascii: bool) -> Self {
        let (columns, rows) = (usize::from(area.width), usize::from(area.height));
        Self {
            columns,
            rows,
            dots: if ascii { (1, 1) } else { (2, 4) },
            cells: vec![0; columns * rows],
            window,
        }
    }

    /// Returns the dot of a point, none where it lies outside.
    fn dot(&self, x: f64, y: f64) -> Option<(i64, i64)> {
        let w = self.window;
        if !is_drawable(x) || !is_drawable(y) {
            return None;
        }
        let across = share(x, w.x)?;
        let down = 1.0 - share(y, w.y)?;
        Some((
            spread(across, self.columns * self.dots.0),
            spread(down, self.rows * self.dots.1),
        ))
    }

    /// Returns the cell of a point: column and row from the upper left, none where it is not seen.
    pub(super) fn cell(&self, x: f64, y: f64) -> Option<(u16, u16)> {
        let (across, down) = self.dot(x, y)?;
        let column = usize::try_from(across).ok()? / self.dots.0;
        let row = usize::try_from(down).ok()? / self.dots.1;
        Some((u16::try_from(column).ok()?, u16::try_from(row).ok()?))
    }

    fn set(&mut self, across: i64, down: i64, plain: char) {
        let (Ok(across), Ok(down)) = (usize::try_from(across), usize::try_from(down)) else {
            return;
        };
        let (column, row) = (across / self.dots.0, down / self.dots.1);
        if column >= self.columns || row >= self.rows {
            return;
        }
        let Some(cell) = self.cells.get_mut(row * self.columns + column) else {
            return;
        };
        if self.dots == (1, 1) {
            // What was drawn first matters more: limits and axes come last.
            if *cell == 0 {
                *cell = u32::from(plain);
            }
        } else if let Some(bit) = BRAILLE
            .get(down % self.dots.1)
            .and_then(|r| r.get(across % self.dots.0))
        {
            *cell |= bit;
        }
    }

    /// Draws a line through points; points that have no place break it.
    pub(super) fn curve(&mut self, points: &[(f64, f64)], stroke: Stroke) {
        let mut walked = 0;
        for pair in points.windows(2) {
            if let [from, to] = pair {
                self.line(*from, *to, stroke, &mut walked);
            }
        }
    }

    /// Draws a straight line, cut at the edges of the window.
    pub(super) fn line(
        &mut self,
        from: (f64, f64),
        to: (f64, f64),
        stroke: Stroke,
        walked: &mut u32,
    ) {
        let Some((from, to)) = clip(from, to, self.window) else {
            return;
        };
        let (Some(a), Some(b)) = (self.dot(from.0, from.1), self.dot(to.0, to.1)) else {
            return;
        };
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let count = dx.abs().max(dy.abs());
        let plain = self.dots == (1, 1);
        for i in 0..=count {
            // The first dot is the last one of the line before.
            if i == 0 && *walked > 0 {
                continue;
            }
            let at = |start: i64, by: i64| {
                if count == 0 {
                    start
                } else {
                    // Rounded to the nearest dot, alike in all directions.
                    start + (2 * by * i + count * by.signum()) / (2 * count)
                }
            };
            let is_on = plain || *walked % (stroke.on + stroke.off).max(1) < stroke.on;
            *walked = walked.wrapping_add(1).max(1);
            if is_on {
                self.set(at(a.0, dx), at(a.1, dy), stroke.plain);
            }
        }
    }

    /// Fills between two values over one x, at every dot of the columns up to the next x.
    pub(super) fn fill(&mut self, x: f64, low: f64, high: f64, plain: char) {
        let (Some(bottom), Some(top)) = (self.dot(x, low), self.dot(x, high)) else {
            return;
        };
        for down in top.1..=bottom.1 {
            self.set(top.0, down, plain);
        }
    }

    /// Returns the values of x at which the columns of dots stand.
    pub(super) fn columns_of_dots(&self) -> impl Iterator<Item = f64> + use<> {
        let count = u32::try_from(self.columns * self.dots.0).unwrap_or(0);
        let (from, to) = self.window.x;
        (0..count).map(move |i| {
            from + (to - from) * f64::from(i) / f64::from(count.saturating_sub(1).max(1))
        })
    }

    /// Puts the dots on the screen; cells without any are left as they are.
    pub(super) fn show(&self, frame: &mut Frame<'_>, area: Rect, style: Style) {
        let buffer = frame.buffer_mut();
        let mut cells = self.cells.iter();
        for row in 0..area.height {
            for column in 0..area.width {
                let Some(&bits) = cells.next() else { return };
                let symbol = if self.dots == (1, 1) {
                    char::from_u32(bits)
                } else {
                    char::from_u32(0x2800 + bits)
                };
                if bits != 0
                    && let (Some(symbol), Some(cell)) = (
                        symbol,
                        buffer.cell_mut(Position::new(area.x + column, area.y + row)),
                    )
                {
                    cell.set_char(symbol).set_style(style);
                }
            }
        }
    }
}

/// Returns where a value lies between two ends, 0 to 1, none where it lies outside.
fn share(v: f64, (low, high): (f64, f64)) -> Option<f64> {
    let s = (v - low) / (high - low);
    // A point on the very edge may come out a hair outside.
    (-1e-9..=1.0 + 1e-9).contains(&s).then(|| s.clamp(0.0, 1.0))
}

/// Returns which of so many dots a share of the whole falls on.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    reason = "a share of 0 to 1 of a number of dots, rounded"
)]
fn spread(share: f64, dots: usize) -> i64 {
    (share * dots.saturating_sub(1) as f64).round() as i64
}

/// Cuts a line at the edges of a window (Liang and Barsky, 1984); none where nothing of it is seen.
fn clip(from: (f64, f64), to: (f64, f64), w: Window) -> Option<((f64, f64), (f64, f64))> {
    if ![from.0, from.1, to.0, to.1].into_iter().all(is_drawable) {
        return None;
    }
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let (mut enter, mut leave) = (0.0f64, 1.0f64);
    for (step, room) in [
        (-dx, from.0 - w.x.0),
        (dx, w.x.1 - from.0),
        (-dy, from.1 - w.y.0),
        (dy, w.y.1 - from.1),
    ] {
        if step == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if step < 0.0 {
            enter = enter.max(room / step);
        } else {
            leave = leave.min(room / step);
        }
    }
    let at = |t: f64| (from.0 + t * dx, from.1 + t * dy);
    (enter <= leave).then(|| (at(enter), at(leave)))
}

#[cfg(test)]
mod tests {
    use super::*;

    const WINDOW: Window = Window {
        x: (0.0, 10.0),
        y: (-1.0, 1.0),
    };

    #[test]
    fn a_line_is_cut_at_the_window() {
        let (a, b) = clip((-10.0, 0.0), (20.0, 0.0), WINDOW).unwrap();
        assert!(a.0.abs() < 1e-9 && (b.0 - 10.0).abs() < 1e-9);
        assert_eq!(clip((0.0, 2.0), (10.0, 3.0), WINDOW), None);
        assert_eq!(clip((0.0, f64::NAN), (10.0, 0.0), WINDOW), None);
        assert_eq!(clip((0.0, 0.0), (f64::INFINITY, 0.0), WINDOW), None);
    }

    #[test]
    fn a_curve_leaves_no_column_of_dots_empty() {
        let area = Rect::new(0, 0, 20, 6);
        let mut raster = Raster::new(area, WINDOW, false);
        let points: Vec<(f64, f64)> = (0..=10)
            .map(|i| (f64::from(i), (f64::from(i) * 0.7).sin()))
            .collect();
        let solid = Stroke {
            on: 1,
            off: 0,
            plain: '*',
        };
        raster.curve(&points, solid);
        for column in 0..20 {
            let seen = (0..6).fold(0, |bits, row| bits | raster.cells[row * 20 + column]);
            assert_ne!(seen & 0x47, 0, "left half of {column}");
            assert_ne!(seen & 0xb8, 0, "right half of {column}");
        }
    }

    #[test]
    fn a_point_and_its_dot_share_a_cell() {
        for ascii in [false, true] {
            let mut raster = Raster::new(Rect::new(0, 0, 31, 9), WINDOW, ascii);
            let solid = Stroke {
                on: 1,
                off: 0,
                plain: '*',
            };
            for (x, y) in [(0.0, -1.0), (10.0, 1.0), (3.3, 0.2), (9.9, -0.98)] {
                raster.cells.fill(0);
                raster.line((x, y), (x, y), solid, &mut 0);
                let (column, row) = raster.cell(x, y).unwrap();
                let at = usize::from(row) * 31 + usize::from(column);
                assert_ne!(raster.cells[at], 0, "{x} {y}");
            }
        }
    }
}
