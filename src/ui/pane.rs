//! How a list and a fitting card share the screen.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::Line;

use super::theme::{Role, Theme};
use super::{WIDE, at, put};

/// The rows of a card below a list.
const CARD_ROWS: u16 = 8;
/// The columns of a card beside one.
const CARD_COLUMNS: u16 = 44;

/// Returns the list's part and the card's, and draws the line between them.
pub(super) fn split(frame: &mut Frame<'_>, area: Rect, theme: Theme) -> (Rect, Rect) {
    if area.width >= WIDE {
        let [list, rule, card] = Layout::horizontal([
            Constraint::Min(0),
            Constraint::Length(1),
            Constraint::Length(CARD_COLUMNS),
        ])
        .areas(area);
        for row in 0..rule.height {
            put(
                frame,
                at(rule, row),
                Line::styled("│", theme.style(Role::Muted)),
            );
        }
        (list, card)
    } else {
        let rows = CARD_ROWS.min(area.height / 2);
        let above = area.height.saturating_sub(rows + 1);
        let rule = at(area, above);
        let list = Rect {
            height: above,
            ..area
        };
        let card = Rect {
            y: area.bottom() - rows,
            height: rows,
            ..area
        };
        super::line_across(frame, rule, theme);
        (list, card)
    }
}
