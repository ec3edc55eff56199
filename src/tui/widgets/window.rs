//! A framed window in the middle of the screen.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::widgets::{Block, BorderType, Clear};

use super::theme::{Role, Theme};

/// Columns of text in a window.
pub(crate) fn inner_width(body: Rect) -> usize {
    usize::from(body.width.saturating_sub(8).min(72))
}

/// Clears a window in the middle, frames it, and returns its inside.
pub(crate) fn window(frame: &mut Frame<'_>, body: Rect, height: usize, theme: Theme) -> Rect {
    let width = u16::try_from(inner_width(body) + 4)
        .unwrap_or(body.width)
        .min(body.width);
    let height = u16::try_from(height + 2)
        .unwrap_or(u16::MAX)
        .min(body.height);
    let area = Rect {
        x: body.x + (body.width - width) / 2,
        y: body.y + (body.height - height) / 2,
        width,
        height,
    };
    frame.render_widget(Clear, area);
    let block = Block::bordered()
        .border_type(BorderType::Rounded)
        .border_style(theme.style(Role::Muted));
    let inside = block.inner(area);
    frame.render_widget(block, area);
    Rect {
        x: inside.x + 1,
        width: inside.width.saturating_sub(2),
        ..inside
    }
}
