//! What every screen draws.

use ratatui::Frame;
use ratatui::layout::Rect;

use crate::tui::seen::Seen;
use crate::tui::widgets::theme::Theme;

/// A screen that draws itself between the top line and the line of hints.
pub trait Draws {
    /// Draws it; no decision is made here.
    fn draw(&self, seen: Seen<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect);
}
