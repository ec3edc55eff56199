//! The keys of the screen in front, from the table of actions.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use super::dialog::window;
use unicode_width::UnicodeWidthStr;

use super::text::{cut, fit, wrap};
use super::theme::{Role, Theme};
use super::{at, put};
use crate::app::App;
use crate::app::help::entries;

/// Columns of the keys.
const KEYS: usize = 20;

pub(super) fn draw(app: &App, top: usize, theme: Theme, frame: &mut Frame<'_>, body: Rect) {
    let area = window(
        frame,
        body,
        usize::from(body.height).saturating_sub(2),
        theme,
    );
    let room = usize::from(area.width).saturating_sub(KEYS + 2);
    let mut lines = Vec::new();
    for (keys, help) in entries(app).into_iter().skip(top) {
        if help.is_empty() {
            lines.push(Line::styled(keys, theme.style(Role::Title)));
            continue;
        }
        let is_long = keys.width() >= KEYS;
        if is_long {
            let keys = format!(
                "  {}",
                cut(&keys, usize::from(area.width).saturating_sub(2))
            );
            lines.push(Line::styled(keys, theme.style(Role::Key)));
        }
        // Nothing of what a key does is cut off: it goes on below.
        for (row, said) in wrap(&help, room).into_iter().enumerate() {
            let keys = if row == 0 && !is_long {
                keys.as_str()
            } else {
                ""
            };
            lines.push(Line::from(vec![
                Span::styled(format!("  {}", fit(keys, KEYS)), theme.style(Role::Key)),
                Span::styled(said, theme.style(Role::Value)),
            ]));
        }
    }
    for (row, line) in (0..area.height).zip(lines) {
        put(frame, at(area, row), line);
    }
}
