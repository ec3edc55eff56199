//! The history of a job: what was done, when and by whom.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use serde_json::Value;

use crate::book::desk::Event;
use crate::tui::widgets::text::{cut, fit, scroll};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{at, put, selected};

pub(super) fn draw(
    events: &[Event],
    chosen: usize,
    theme: Theme,
    frame: &mut Frame<'_>,
    area: Rect,
) {
    if events.is_empty() {
        put(
            frame,
            at(area, 0),
            Line::styled(" Nothing has happened to it yet.", theme.style(Role::Muted)),
        );
    }
    let top = scroll(chosen, events.len(), area.height.into());
    for (row, (place, event)) in (0..area.height).zip(events.iter().enumerate().skip(top)) {
        let is = place == chosen;
        let style = |role| selected(theme, is, theme.style(role));
        let room = usize::from(area.width).saturating_sub(1 + 17 + 18 + 14);
        let line = Line::from(vec![
            Span::styled(if is { ">" } else { " " }, style(Role::Value)),
            Span::styled(
                event.at.format("%Y-%m-%d %H:%M ").to_string(),
                style(Role::Muted),
            ),
            Span::styled(
                fit(&cut(event.by.as_deref().unwrap_or("the program"), 17), 18),
                style(Role::Label),
            ),
            Span::styled(fit(&event.what, 14), style(Role::Value)),
            Span::styled(fit(&plain(&event.detail), room), style(Role::Muted)),
        ]);
        put(frame, at(area, row), line);
    }
}

/// The content of an event in one line.
fn plain(detail: &Value) -> String {
    match detail {
        Value::Null => String::new(),
        Value::String(text) => text.clone(),
        Value::Object(map) => map
            .iter()
            .filter(|(_, v)| !v.is_null())
            .map(|(k, v)| format!("{} {}", k.replace('_', " "), plain(v)))
            .collect::<Vec<_>>()
            .join(", "),
        Value::Array(list) => list.iter().map(plain).collect::<Vec<_>>().join(", "),
        other => other.to_string(),
    }
}
