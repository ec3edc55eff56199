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

/// The rows of a card below a list that is the matter of its screen, in a low window.
const SHORT_CARD_ROWS: u16 = 5;
/// Below this a window is low: such a list would show two jobs beside a whole card.
const LOW: u16 = 28;

/// Returns the list's part and the card's, and draws the line between them.
pub(crate) fn split(frame: &mut Frame<'_>, area: Rect, theme: Theme) -> (Rect, Rect) {
    split_rows(frame, area, theme, CARD_ROWS)
}

/// The same where the list comes before the card: in a low window the card shows its first rows.
pub(crate) fn split_for_list(frame: &mut Frame<'_>, area: Rect, theme: Theme) -> (Rect, Rect) {
    let rows = if area.height < LOW {
        SHORT_CARD_ROWS
    } else {
        CARD_ROWS
    };
    split_rows(frame, area, theme, rows)
}

/// The same where the list is worked through beside the wearer: in a low window the card has only as
/// many rows as are asked for.
pub(crate) fn split_for_checks(
    frame: &mut Frame<'_>,
    area: Rect,
    theme: Theme,
    rows: u16,
) -> (Rect, Rect) {
    let rows = if area.height < LOW {
        rows.min(CARD_ROWS)
    } else {
        CARD_ROWS
    };
    split_rows(frame, area, theme, rows)
}

fn split_rows(frame: &mut Frame<'_>, area: Rect, theme: Theme, rows: u16) -> (Rect, Rect) {
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
        let rows = rows.min(area.height / 2);
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
