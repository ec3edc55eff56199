//! The keys of the current screen, from the table of actions.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use super::header;
use crate::tui::App;
use crate::tui::help::entries;
use crate::tui::widgets::text::{cut, fit, wrap};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::window::{inner_width, window};
use crate::tui::widgets::{at, put};

/// Columns for the keys; what they do follows them.
const KEYS: usize = 20;

/// One row of the help: the title of a screen, or keys and what they do.
struct Row {
    keys: String,
    does: String,
    is_title: bool,
}

/// The rows of the help for a width, long words on as many rows as they take.
fn rows(app: &App, top: usize, width: usize) -> Vec<Row> {
    let mut rows = Vec::new();
    for (keys, help) in entries(app.scope(), &app.keymap).into_iter().skip(top) {
        if help.is_empty() {
            rows.push(Row {
                keys,
                does: help,
                is_title: true,
            });
            continue;
        }
        let mut keys = wrap(&keys, KEYS - 1).into_iter();
        let mut does = wrap(&help, width.saturating_sub(KEYS + 2)).into_iter();
        loop {
            let (keys, does) = (keys.next(), does.next());
            if keys.is_none() && does.is_none() {
                break;
            }
            rows.push(Row {
                keys: keys.unwrap_or_default(),
                does: does.unwrap_or_default(),
                is_title: false,
            });
        }
    }
    rows.extend(marks(app, width));
    rows
}

/// What the marks of the top line mean, where there are any.
fn marks(app: &App, width: usize) -> Vec<Row> {
    let name = app.person.as_deref().filter(|_| !app.proven);
    let day = app
        .today_is_fixed
        .then(|| app.today.format("%-d %b").to_string());
    let marks = [
        name.map(|name| {
            let does = "At the top: a name that nobody has proved by a PIN or passphrase.";
            (format!("{}{}", cut(name, KEYS - 2), header::UNPROVEN), does)
        }),
        day.map(|day| {
            let does = "At the top: the day is set for a trial and is not the calendar's.";
            (format!("{day}{}", header::TRIAL), does)
        }),
    ];
    let mut rows = Vec::new();
    for (keys, does) in marks.into_iter().flatten() {
        for (at, does) in wrap(does, width.saturating_sub(KEYS + 2))
            .into_iter()
            .enumerate()
        {
            rows.push(Row {
                keys: if at == 0 { keys.clone() } else { String::new() },
                does,
                is_title: false,
            });
        }
    }
    rows
}

/// How many rows of the help do not fit a body of this size.
pub(crate) fn overflow(app: &App, body: Rect) -> usize {
    let height = usize::from(body.height).saturating_sub(2);
    rows(app, 0, inner_width(body)).len().saturating_sub(height)
}

pub(crate) fn draw(app: &App, top: usize, theme: Theme, frame: &mut Frame<'_>, body: Rect) {
    let height = usize::from(body.height).saturating_sub(2);
    let area = window(frame, body, height, theme);
    let rows = rows(app, top, area.width.into());
    for (y, row) in (0..area.height).zip(rows.iter()) {
        let line = if row.is_title {
            Line::styled(row.keys.clone(), theme.style(Role::Title))
        } else {
            Line::from(vec![
                Span::styled(
                    format!("  {}", fit(&row.keys, KEYS)),
                    theme.style(Role::Key),
                ),
                Span::styled(row.does.clone(), theme.style(Role::Value)),
            ])
        };
        put(frame, at(area, y), line);
    }
}
