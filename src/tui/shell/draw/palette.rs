//! Every action of the screen, found by its name.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::text::{Line, Span};

use crate::tui::App;
use crate::tui::line;
use crate::tui::shell::palette::{matching, nothing_found};
use crate::tui::widgets::text::{cut, fit, scroll, wrap};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::window::window;
use crate::tui::widgets::{at, put, selected};

pub(crate) fn draw(
    app: &App,
    line: &line::Line,
    chosen: usize,
    theme: Theme,
    frame: &mut Frame<'_>,
    body: Rect,
) {
    let found = matching(app, line.text());
    let area = window(
        frame,
        body,
        14.min(usize::from(body.height).saturating_sub(2)),
        theme,
    );
    let text = Line::from(vec![
        Span::styled(": ", theme.style(Role::Label)),
        Span::styled(line.text().to_owned(), theme.style(Role::Title)),
    ]);
    put(frame, at(area, 0), text);
    let x = area.x + u16::try_from(2 + line.cursor_column()).unwrap_or(0);
    frame.set_cursor_position(Position::new(x.min(area.right().saturating_sub(1)), area.y));
    if found.is_empty() {
        let said = nothing_found(line.text());
        let lines = said.iter().flat_map(|text| wrap(text, area.width.into()));
        for (row, text) in (1..area.height).zip(lines) {
            put(
                frame,
                at(area, row),
                Line::styled(text, theme.style(Role::Muted)),
            );
        }
        return;
    }
    let height = usize::from(area.height.saturating_sub(1));
    let top = scroll(chosen, found.len(), height);
    for (row, (place, action)) in (1..area.height).zip(found.iter().enumerate().skip(top)) {
        let is = place == chosen;
        let entry = action.entry();
        let key = app.keymap.shown(*action).unwrap_or_default();
        let room = usize::from(area.width).saturating_sub(2 + 24 + 11);
        let style = |role| selected(theme, is, theme.style(role));
        let line = Line::from(vec![
            Span::styled(if is { "> " } else { "  " }, style(Role::Value)),
            Span::styled(fit(entry.id, 24), style(Role::Value)),
            Span::styled(fit(&key, 11), style(Role::Key)),
            Span::styled(fit(&cut(entry.help, room), room), style(Role::Muted)),
        ]);
        put(frame, at(area, row), line);
    }
}
