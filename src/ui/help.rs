//! The keys of the screen in front, from the table of actions.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use super::dialog::window;
use super::text::{cut, fit};
use super::theme::{Role, Theme};
use super::{at, put};
use crate::app::App;
use crate::app::action::{ACTIONS, Scope};

pub(super) fn draw(app: &App, top: usize, theme: Theme, frame: &mut Frame<'_>, body: Rect) {
    let area = window(
        frame,
        body,
        usize::from(body.height).saturating_sub(2),
        theme,
    );
    let mut scopes = vec![app.scope()];
    if app.scope() == Scope::Job {
        scopes.push(Scope::Entry);
    }
    scopes.push(Scope::Everywhere);
    let mut lines: Vec<(String, String)> = Vec::new();
    for scope in scopes {
        lines.push((scope.title().to_owned(), String::new()));
        for e in ACTIONS.iter().filter(|e| e.scopes.contains(&scope)) {
            let keys = app.keymap.keys_of(e.action);
            if keys.is_empty() {
                continue;
            }
            let keys = keys
                .iter()
                .map(ToString::to_string)
                .collect::<Vec<_>>()
                .join(", ");
            lines.push((keys, e.help.to_owned()));
        }
    }
    let top = top.min(lines.len().saturating_sub(area.height.into()));
    for (row, (keys, help)) in (0..area.height).zip(lines.iter().skip(top)) {
        let line = if help.is_empty() {
            Line::styled(keys.clone(), theme.style(Role::Title))
        } else {
            let room = usize::from(area.width).saturating_sub(22);
            Line::from(vec![
                Span::styled(format!("  {}", fit(keys, 20)), theme.style(Role::Key)),
                Span::styled(cut(help, room), theme.style(Role::Value)),
            ])
        };
        put(frame, at(area, row), line);
    }
}
