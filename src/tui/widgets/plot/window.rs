//! What part of the plane a chart shows.

use ratatui::layout::Rect;

use super::raster::{Window, is_drawable};
use crate::views::plot::Plot;

/// Room above and below the curves, as a share of their height.
const ROOM: f64 = 0.06;

/// Returns the window that holds everything drawable, none where there is nothing.
pub(super) fn window(plot: &Plot) -> Option<Window> {
    let points = plot.series.iter().flat_map(|s| s.points.iter().copied());
    let marks = plot.marks.iter().chain(&plot.words).map(|m| (m.x, m.y));
    let (mut x, mut y) = (
        (f64::INFINITY, f64::NEG_INFINITY),
        (f64::INFINITY, f64::NEG_INFINITY),
    );
    let widen = |range: &mut (f64, f64), v: f64| *range = (range.0.min(v), range.1.max(v));
    for (px, py) in points
        .chain(marks)
        .filter(|p| is_drawable(p.0) && is_drawable(p.1))
    {
        widen(&mut x, px);
        widen(&mut y, py);
    }
    if x.0 > x.1 {
        return None;
    }
    for limit in plot.limits.iter().filter(|l| is_drawable(l.y)) {
        widen(&mut y, limit.y);
    }
    let grow = |(low, high): (f64, f64), share: f64| {
        let width = high - low;
        // A flat curve is drawn in the middle of something.
        let least = (low.abs().max(high.abs()) * 1e-3).max(1e-3);
        if width < least {
            (low - least, high + least)
        } else {
            (low - width * share, high + width * share)
        }
    };
    // An amount that is never below nought begins there.
    let floor = if y.0 >= 0.0 && y.0 <= y.1 * 0.25 {
        Some(0.0)
    } else {
        None
    };
    let grown = grow(y, ROOM);
    let y = floor.map_or(grown, |f: f64| (f.min(y.0), grown.1));
    Some(Window { x: grow(x, 0.0), y })
}

/// Returns a window of the canvas's own shape, so that a millimetre is as long across as up.
pub(super) fn to_one_scale(window: Window, canvas: Rect) -> Window {
    let (wide, high) = (window.x.1 - window.x.0, window.y.1 - window.y.0);
    // A cell is about twice as high as wide.
    let shape = f64::from(canvas.width) / (f64::from(canvas.height) * 2.0);
    let about = |(low, high): (f64, f64), whole: f64| {
        let middle = f64::midpoint(low, high);
        (middle - whole / 2.0, middle + whole / 2.0)
    };
    if wide / high < shape {
        Window {
            x: about(window.x, high * shape),
            ..window
        }
    } else {
        Window {
            y: about(window.y, wide / shape),
            ..window
        }
    }
}
