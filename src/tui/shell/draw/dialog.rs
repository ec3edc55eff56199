//! What is asked over a screen.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::text::Line;

use super::{help, lock, palette};
use crate::tui::earlier_reasons;
use crate::tui::question::Dialog;
use crate::tui::questions::who::CAUTION;
use crate::tui::widgets::text::{cut, fit, scroll, typed, wrap};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::window::{inner_width, window};
use crate::tui::widgets::{at, put};
use crate::tui::{App, Screen};

pub(crate) fn draw(app: &App, theme: Theme, frame: &mut Frame<'_>, body: Rect) {
    match &app.dialog {
        None => {}
        Some(Dialog::Help { top }) => help::draw(app, *top, theme, frame, body),
        Some(Dialog::Palette { line, selected }) => {
            palette::draw(app, line, *selected, theme, frame, body);
        }
        Some(Dialog::Text {
            title,
            line,
            error,
            check,
            ..
        }) => {
            let width = inner_width(body);
            let mut lines = caution(app, width);
            lines.extend(wrap(title, width).into_iter().map(|l| (l, Role::Label)));
            let at_row = lines.len();
            let room = width.saturating_sub(3);
            let (shown, column) = typed(line.text(), line.cursor_column(), room);
            lines.push((format!("> {shown}"), Role::Title));
            if let Some(error) = error {
                lines.extend(wrap(error, width).into_iter().map(|l| (l, Role::Stop)));
            }
            if let Some(check) = *check {
                lines.extend(earlier(app, check, width));
            }
            let area = window(frame, body, lines.len(), theme);
            rows(&lines, theme, frame, area);
            let row = u16::try_from(at_row)
                .unwrap_or(0)
                .min(area.height.saturating_sub(1));
            let x = u16::try_from(2 + column).unwrap_or(0);
            let x = (area.x + x).min(area.right().saturating_sub(1));
            frame.set_cursor_position(Position::new(x, area.y + row));
        }
        Some(Dialog::Secret {
            title, line, error, ..
        }) => {
            let width = inner_width(body);
            let mut lines: Vec<_> = wrap(title, width)
                .into_iter()
                .map(|l| (l, Role::Label))
                .collect();
            let at_row = lines.len();
            let dots = line.count().min(width.saturating_sub(3));
            lines.push((format!("> {}", lock::DOT.repeat(dots)), Role::Title));
            if let Some(error) = error {
                lines.extend(wrap(error, width).into_iter().map(|l| (l, Role::Stop)));
            }
            let area = window(frame, body, lines.len(), theme);
            rows(&lines, theme, frame, area);
            let row = u16::try_from(at_row).unwrap_or(0);
            let x = area.x + u16::try_from(2 + dots).unwrap_or(0);
            let x = x.min(area.right().saturating_sub(1));
            frame.set_cursor_position(Position::new(x, area.y + row));
        }
        Some(Dialog::Choose {
            title,
            items,
            note,
            selected,
            ..
        }) => {
            let width = inner_width(body);
            let mut lines = caution(app, width);
            lines.extend(wrap(title, width).into_iter().map(|l| (l, Role::Label)));
            let above = lines.len();
            let room = usize::from(body.height).saturating_sub(above + 2);
            let top = scroll(*selected, items.len(), room);
            for (place, item) in items.iter().enumerate().skip(top).take(room) {
                let is = place == *selected;
                let lead = if is { "> " } else { "  " };
                let role = if is { Role::Focus } else { Role::Value };
                lines.push((fit(&format!("{lead}{item}"), width), role));
            }
            if let Some(note) = note {
                lines.push((String::new(), Role::Muted));
                lines.push((note.clone(), Role::Muted));
            }
            let area = window(frame, body, lines.len(), theme);
            rows(&lines, theme, frame, area);
        }
    }
}

/// The reasons for which the same check was accepted before.
fn earlier(app: &App, check: &str, width: usize) -> Vec<(String, Role)> {
    let reasons = earlier_reasons::offered(app, check);
    if reasons.is_empty() {
        return Vec::new();
    }
    let mut lines = vec![("down takes one given before:".to_owned(), Role::Muted)];
    lines.extend((reasons.iter()).map(|r| (cut(&format!("  {r}"), width), Role::Value)));
    lines
}

/// The caution shown first when a book is begun.
fn caution(app: &App, width: usize) -> Vec<(String, Role)> {
    if app.screen != Screen::Welcome {
        return Vec::new();
    }
    let mut lines: Vec<_> = wrap(CAUTION, width)
        .into_iter()
        .map(|l| (l, Role::Value))
        .collect();
    lines.push((String::new(), Role::Muted));
    lines
}

fn rows(lines: &[(String, Role)], theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    for (row, (line, role)) in (0..area.height).zip(lines) {
        put(
            frame,
            at(area, row),
            Line::styled(line.clone(), theme.style(*role)),
        );
    }
}
