//! A job as it is read out: plain lines, the one that is read now marked.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

use super::State;
use crate::tui::screens::draw::Draws;
use crate::tui::seen::Seen;
use crate::tui::widgets::text::{scroll, wrap};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{at, put};

impl Draws for State {
    fn draw(&self, _seen: Seen<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
        let width = usize::from(area.width.saturating_sub(4));
        let mut rows = Vec::new();
        let mut here = 0;
        for (place, line) in self.lines.iter().enumerate() {
            let is = place == self.line;
            for (part, text) in wrap(line, width).into_iter().enumerate() {
                if is {
                    here = rows.len();
                }
                let lead = match (is, part) {
                    (true, 0) => "> ",
                    (_, 0) => "  ",
                    _ => "    ",
                };
                rows.push((format!("{lead}{text}"), is));
            }
        }
        let top = scroll(here, rows.len(), area.height.into());
        for (row, (text, is)) in (0..area.height).zip(rows.into_iter().skip(top)) {
            let role = if is { Role::Focus } else { Role::Value };
            put(frame, at(area, row), Line::styled(text, theme.style(role)));
        }
    }
}
