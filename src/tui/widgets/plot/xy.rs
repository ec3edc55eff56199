//! Curves over one quantity, with axes, marks and limits.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Modifier;
use ratatui::text::Line;
use unicode_width::UnicodeWidthStr;

use super::legend::{Lettered, named, written};
use super::notes::{cut, notes, plain};
use super::raster::{Raster, Stroke, Window};
use super::ticks::{Ticks, ticks};
use super::window::{to_one_scale, window};
use crate::tui::widgets::put;
use crate::tui::widgets::theme::{Role, Theme};
use crate::views::plot::Plot;

/// How the curves are stroked, one after the other.
const STROKES: [Stroke; 4] = [
    Stroke {
        on: 1,
        off: 0,
        plain: '*',
    },
    Stroke {
        on: 3,
        off: 2,
        plain: 'o',
    },
    Stroke {
        on: 1,
        off: 2,
        plain: ':',
    },
    Stroke {
        on: 6,
        off: 3,
        plain: '%',
    },
];
/// Limits: long dashes.
const LIMIT: Stroke = Stroke {
    on: 4,
    off: 4,
    plain: '-',
};
/// The line through nought.
const NOUGHT: Stroke = Stroke {
    on: 1,
    off: 5,
    plain: '.',
};
/// Columns right of the drawing, for the digits of the curves and the letters of the limits.
const DIGITS: u16 = 2;

/// Where the parts of a chart lie.
struct Places {
    canvas: Rect,
    y_name: Option<Rect>,
    x_numbers: Option<Rect>,
    x_name: Option<Rect>,
}

/// Draws a chart.
pub(super) fn draw(frame: &mut Frame<'_>, area: Rect, plot: &Plot, theme: Theme) {
    let lettered = Lettered::of(plot);
    let area = notes(frame, area, &written(plot, &lettered, theme), theme);
    let Some(window) = window(plot) else {
        let row = Rect {
            height: area.height.min(1),
            ..area
        };
        put(
            frame,
            row,
            Line::raw(cut("nothing of it can be drawn", area.width, theme)),
        );
        return;
    };
    let names = (plain(&named(&plot.x), theme), plain(&named(&plot.y), theme));
    let y_ticks = ticks(window.y, (area.height * 2 / 5).clamp(2, 9));
    let places = places(area, y_ticks.width());
    if places.canvas.is_empty() {
        return;
    }
    let window = if plot.is_map {
        to_one_scale(window, places.canvas)
    } else {
        window
    };
    let y_ticks = if plot.is_map {
        Ticks {
            at: ticks(window.y, (area.height * 2 / 5).clamp(2, 9)).at,
            ..y_ticks
        }
    } else {
        y_ticks
    };
    let raster = painted(plot, window, &places, theme);
    axes(frame, &raster, &places, window, &y_ticks, theme);
    if let Some(row) = places.y_name {
        put(
            frame,
            row,
            Line::styled(cut(&names.1, row.width, theme), theme.style(Role::Muted)),
        );
    }
    if let Some(row) = places.x_name {
        let short = cut(&names.0, row.width, theme);
        let indent = row
            .width
            .saturating_sub(u16::try_from(short.width()).unwrap_or(0))
            / 2;
        let row = Rect {
            x: row.x + indent,
            width: row.width - indent,
            ..row
        };
        put(frame, row, Line::styled(short, theme.style(Role::Muted)));
    }
    raster.show(frame, places.canvas, theme.style(Role::Value));
    let bold = theme.style(Role::Value).add_modifier(Modifier::BOLD);
    for word in &plot.words {
        if let Some((column, row)) = raster.cell(word.x, word.y) {
            let name = plain(&word.name, theme);
            // Outwards from the middle, so that a word does not lie over what it names.
            let wide = u16::try_from(name.width()).unwrap_or(0);
            let middle = f64::midpoint(window.x.0, window.x.1);
            let nearly = (window.x.1 - window.x.0) * 0.02;
            let back = if (word.x - middle).abs() < nearly {
                wide / 2
            } else if word.x < middle {
                wide.saturating_sub(1)
            } else {
                0
            };
            let column = column
                .saturating_sub(back)
                .min(places.canvas.width.saturating_sub(wide));
            letter(
                frame,
                places.canvas,
                (column, row),
                &name,
                theme.style(Role::Muted),
            );
        }
    }
    for (mark, sign) in plot.marks.iter().zip(&lettered.signs).rev() {
        if let Some(cell) = raster.cell(mark.x, mark.y) {
            letter(frame, places.canvas, cell, &sign.to_string(), bold);
        }
    }
    ends(frame, plot, &raster, places.canvas, theme);
    limit_ends(frame, plot, (&raster, window), places.canvas, theme);
}

/// Paints curves, then limits, then the line through nought.
fn painted(plot: &Plot, window: Window, places: &Places, theme: Theme) -> Raster {
    let mut raster = Raster::new(places.canvas, window, theme.is_ascii());
    for (series, stroke) in plot.series.iter().zip(STROKES.iter().cycle()) {
        raster.curve(&series.points, *stroke);
    }
    let (left, right) = window.x;
    for limit in &plot.limits {
        raster.line((left, limit.y), (right, limit.y), LIMIT, &mut 0);
    }
    let nought = |(low, high): (f64, f64)| low < 0.0 && high > 0.0;
    if nought(window.y) {
        raster.line((left, 0.0), (right, 0.0), NOUGHT, &mut 0);
    }
    if nought(window.x) {
        raster.line((0.0, window.y.0), (0.0, window.y.1), NOUGHT, &mut 0);
    }
    raster
}

/// Puts each curve's digit beside its end, one row apart where ends fall together.
fn ends(frame: &mut Frame<'_>, plot: &Plot, raster: &Raster, canvas: Rect, theme: Theme) {
    if plot.series.len() < 2 || plot.is_map {
        return;
    }
    let mut taken: Vec<u16> = Vec::new();
    for (series, digit) in plot.series.iter().zip(1u8..) {
        let seen = series
            .points
            .iter()
            .rev()
            .find_map(|p| raster.cell(p.0, p.1));
        let Some((_, row)) = seen else { continue };
        let nearest = (0..canvas.height)
            .filter(|r| !taken.contains(r))
            .min_by_key(|r| r.abs_diff(row));
        if let Some(row) = nearest {
            taken.push(row);
            let digit = digit.to_string();
            let outside = Rect {
                x: canvas.x + canvas.width,
                width: DIGITS,
                ..canvas
            };
            letter(frame, outside, (0, row), &digit, theme.style(Role::Title));
        }
    }
}

/// Puts each limit's small letter at the end of its line, where there is more than one.
fn limit_ends(
    frame: &mut Frame<'_>,
    plot: &Plot,
    (raster, window): (&Raster, Window),
    canvas: Rect,
    theme: Theme,
) {
    if plot.limits.len() < 2 {
        return;
    }
    for (limit, sign) in plot.limits.iter().zip('a'..='z') {
        if let Some((_, row)) = raster.cell(window.x.1, limit.y) {
            let outside = Rect {
                x: canvas.x + canvas.width + 1,
                width: 1,
                ..canvas
            };
            letter(
                frame,
                outside,
                (0, row),
                &sign.to_string(),
                theme.style(Role::Title),
            );
        }
    }
}

fn letter(
    frame: &mut Frame<'_>,
    canvas: Rect,
    (column, row): (u16, u16),
    words: &str,
    style: ratatui::style::Style,
) {
    let here = Rect {
        x: canvas.x.saturating_add(column),
        y: canvas.y.saturating_add(row),
        width: canvas.width.saturating_sub(column),
        height: 1,
    };
    put(frame, here, Line::styled(words.to_owned(), style));
}

/// Returns where everything goes; names, then numbers go where there is no room for them.
fn places(area: Rect, y_width: usize) -> Places {
    let gutter = u16::try_from(y_width).unwrap_or(0) + 1;
    let has_axes = area.width >= gutter + 16 && area.height >= 5;
    if !has_axes {
        return Places {
            canvas: area,
            y_name: None,
            x_numbers: None,
            x_name: None,
        };
    }
    let has_names = area.height >= 7;
    let top = u16::from(has_names);
    let canvas = Rect {
        x: area.x + gutter,
        y: area.y + top,
        width: area.width - gutter - DIGITS,
        height: area.height - top - 2 - u16::from(has_names),
    };
    let row = |y: u16| Rect {
        x: area.x,
        y,
        width: area.width,
        height: 1,
    };
    let below = canvas.y + canvas.height;
    Places {
        canvas,
        y_name: has_names.then(|| row(area.y)),
        x_numbers: Some(row(below + 1)),
        x_name: has_names.then(|| row(below + 2)),
    }
}

/// Draws the frame of a chart with its numbers.
fn axes(
    frame: &mut Frame<'_>,
    raster: &Raster,
    places: &Places,
    window: Window,
    y_ticks: &Ticks,
    theme: Theme,
) {
    let Some(numbers) = places.x_numbers else {
        return;
    };
    let (upright, flat, corner, at_y, at_x) = if theme.is_ascii() {
        ("|", "-", "+", "+", "+")
    } else {
        ("│", "─", "└", "┤", "┬")
    };
    let canvas = places.canvas;
    let muted = theme.style(Role::Muted);
    let axis = canvas.x - 1;
    let below = canvas.y + canvas.height;
    let cell = |x: u16, y: u16, width: u16| Rect {
        x,
        y,
        width,
        height: 1,
    };
    for row in 0..canvas.height {
        put(
            frame,
            cell(axis, canvas.y + row, 1),
            Line::styled(upright, muted),
        );
    }
    let base = format!("{corner}{}", flat.repeat(canvas.width.into()));
    put(
        frame,
        cell(axis, below, canvas.width + 1),
        Line::styled(base, muted),
    );
    let mut last_row = None;
    for &y in y_ticks.at.iter().rev() {
        let Some((_, row)) = raster.cell(window.x.0, y) else {
            continue;
        };
        if last_row == Some(row) {
            continue;
        }
        last_row = Some(row);
        let text = y_ticks.write(y);
        let wide = u16::try_from(text.len()).unwrap_or(0);
        let start = axis.saturating_sub(wide).max(numbers.x);
        put(
            frame,
            cell(start, canvas.y + row, axis - start),
            Line::raw(text),
        );
        put(
            frame,
            cell(axis, canvas.y + row, 1),
            Line::styled(at_y, muted),
        );
    }
    let x_ticks = ticks(window.x, (canvas.width / 8).clamp(2, 13));
    let mut free_from = numbers.x;
    for &x in &x_ticks.at {
        let Some((column, _)) = raster.cell(x, window.y.0) else {
            continue;
        };
        put(
            frame,
            cell(canvas.x + column, below, 1),
            Line::styled(at_x, muted),
        );
        let text = x_ticks.write(x);
        let wide = u16::try_from(text.len()).unwrap_or(0);
        let start = (canvas.x + column).saturating_sub(wide / 2);
        if start >= free_from && start + wide <= numbers.x + numbers.width {
            put(frame, cell(start, numbers.y, wide), Line::raw(text));
            free_from = start + wide + 1;
        }
    }
}
