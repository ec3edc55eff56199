//! What the drawings of the screens share: lines of text, colours, a card at the side, bars and plots.
//! No widget knows a screen.

pub(crate) mod frame_front;
pub(crate) mod margin;
pub(crate) mod pane;
pub(crate) mod plot;
pub(crate) mod remedy;
pub(crate) mod text;
pub(crate) mod theme;
pub(crate) mod window;

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Line;

use theme::{Role, Theme};

/// From this many columns on, the fitting card is at the side.
pub(crate) const WIDE: u16 = 100;

/// Draws one line of text.
pub(crate) fn put(frame: &mut Frame<'_>, area: Rect, line: Line<'_>) {
    let area = area.intersection(frame.area());
    if area.width > 0 && area.height > 0 {
        frame.render_widget(line, area);
    }
}

/// One row of an area.
pub(crate) fn at(area: Rect, row: u16) -> Rect {
    Rect {
        x: area.x,
        y: area.y.saturating_add(row),
        width: area.width,
        height: u16::from(row < area.height),
    }
}

/// A quiet line from side to side.
pub(crate) fn line_across(frame: &mut Frame<'_>, area: Rect, theme: Theme) {
    let line = Line::styled("─".repeat(area.width.into()), theme.style(Role::Muted));
    put(frame, at(area, 0), line);
}

/// The style of a selected row.
pub(crate) fn selected(theme: Theme, is: bool, style: Style) -> Style {
    if is {
        style.patch(theme.style(Role::Focus))
    } else {
        style
    }
}
