//! What explains a chart: its curves, marks with their places, limits and numbers.

use super::notes::plain;
use crate::tui::widgets::theme::Theme;
use crate::views::plot::{Axis, Plot};

/// Returns the name of an axis with its unit.
pub(super) fn named(axis: &Axis) -> String {
    if axis.unit.is_empty() {
        axis.label.clone()
    } else {
        format!("{}, {}", axis.label, axis.unit)
    }
}

/// The letters of the marks: one name, one letter.
pub(super) struct Lettered {
    /// Of each mark in turn.
    pub signs: Vec<char>,
}

impl Lettered {
    pub(super) fn of(plot: &Plot) -> Self {
        let mut names: Vec<&str> = Vec::new();
        let mut signs = Vec::new();
        for mark in &plot.marks {
            let place = names
                .iter()
                .position(|n| *n == mark.name)
                .unwrap_or_else(|| {
                    names.push(&mark.name);
                    names.len() - 1
                });
            signs.push(('A'..='Z').nth(place).unwrap_or('#'));
        }
        Self { signs }
    }
}

/// Returns what explains the chart: curves, marks with their places, limits, numbers.
pub(super) fn written(plot: &Plot, lettered: &Lettered, theme: Theme) -> Vec<String> {
    let mut lines = Vec::new();
    let strokes = if theme.is_ascii() {
        ["****", "oooo", "::::", "%%%%"]
    } else {
        ["⠒⠒⠒⠒", "⠒⠂⠒⠂", "⠂⠂⠂⠂", "⠒⠒⠂⠒"]
    };
    for ((series, stroke), digit) in plot.series.iter().zip(strokes.iter().cycle()).zip(1..) {
        if plot.series.len() > 1 && !plot.is_map {
            lines.push(format!("{digit} {stroke} {}", series.name));
        } else {
            lines.push(format!("{stroke} {}", series.name));
        }
    }
    for (place, (mark, sign)) in plot.marks.iter().zip(&lettered.signs).enumerate() {
        let at = format!("{}, {}", value(mark.x, &plot.x), value(mark.y, &plot.y));
        let before = plot.marks.iter().take(place).any(|m| m.name == mark.name);
        if before {
            // The same point of another curve: its height is all that is new.
            let first = lines
                .iter_mut()
                .find(|l| l.starts_with(&format!("{sign} {}: ", mark.name)));
            if let Some(first) = first {
                first.push_str(" and ");
                first.push_str(&value(mark.y, &plot.y));
                continue;
            }
        }
        if plot.is_map {
            // The numbers beside name its directions; signs of the drawing's own would mislead.
            lines.push(format!("{sign} {}", mark.name));
        } else {
            lines.push(format!("{sign} {}: {at}", mark.name));
        }
    }
    let dashes = if theme.is_ascii() { "----" } else { "⠤ ⠤ " };
    for (limit, sign) in plot.limits.iter().zip('a'..='z') {
        let sign = if plot.limits.len() > 1 {
            format!("{sign} ")
        } else {
            String::new()
        };
        lines.push(format!(
            "{sign}{dashes} {}: {}",
            limit.name,
            value(limit.y, &plot.y)
        ));
    }
    lines.extend(
        plot.numbers
            .iter()
            .map(|n| format!("{}: {}", n.label, n.text)),
    );
    lines.iter().map(|l| plain(l, theme)).collect()
}

/// Writes a place on an axis with its unit.
fn value(v: f64, axis: &Axis) -> String {
    match axis.unit {
        "°" => format!("{v:.0}°"),
        "mm" => format!("{v:.1} mm"),
        "%" => format!("{v:.1} %"),
        unit => format!("{v:.2} {unit}"),
    }
}
