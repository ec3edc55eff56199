//! Pictures of numbers: curves, bars and lenses in section, with their numbers beside or below.
//!
//! Braille where the terminal has it, plain characters otherwise. Nothing is told by colour alone:
//! curves end in a digit, points are letters, limits are dashed, and each is explained.

mod bars;
mod legend;
mod notes;
mod raster;
mod section;
mod ticks;
mod window;
mod xy;

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Line;

use super::theme::{Role, Theme};
use super::{at, put};
use crate::views::plot::Picture;
use notes::{cut, plain, wrapped};

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

#[cfg(test)]
mod tests;
