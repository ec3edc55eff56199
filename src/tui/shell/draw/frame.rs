//! Drawing: the screen from what the program knows, and nothing else. No decision is made here.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

use super::{dialog, header, help, lock, tour};
use crate::tui::App;
use crate::tui::action::Action;
use crate::tui::shell::app::{LEAST_HEIGHT, LEAST_WIDTH};
use crate::tui::shell::hints::hints;
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{at, line_across, put, text};

/// Draws the screen.
pub fn draw(app: &App, theme: Theme, frame: &mut Frame<'_>) {
    let area = frame.area();
    if area.width < LEAST_WIDTH || area.height < LEAST_HEIGHT {
        let sentence = format!(
            "rimbook needs {LEAST_WIDTH} columns and {LEAST_HEIGHT} rows; this window has {} and {}.",
            area.width, area.height
        );
        for (row, line) in (0..area.height).zip(text::wrap(&sentence, area.width.into())) {
            put(frame, at(area, row), Line::raw(line));
        }
        return;
    }
    if let Some(locked) = &app.lock {
        lock::draw(app, locked, theme, frame, area);
        return;
    }
    // Plain sums: the solver of layouts is a third of the first frame.
    let [head, rule] = [0, 1].map(|row| at(area, row));
    let [notice, hints] = [2, 1].map(|row| at(area, area.height - row));
    let body = Rect {
        y: area.y + 2,
        height: area.height - 4,
        ..area
    };
    header::draw(app, theme, frame, head);
    line_across(frame, rule, theme);
    if let Some(state) = app.states.get(app.screen) {
        state.drawing().draw(app.seen(), theme, frame, body);
    }
    notice_line(app, theme, frame, notice);
    hint_bar(app, theme, frame, hints, body);
    tour::draw(app, theme, frame, body);
    dialog::draw(app, theme, frame, body);
}

fn notice_line(app: &App, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let Some(notice) = &app.notice else {
        line_across(frame, area, theme);
        return;
    };
    let (mark, style) = if notice.bad {
        ("!", theme.style(Role::Warning))
    } else {
        ("·", theme.style(Role::Good))
    };
    // A long sentence grows upwards rather than losing its end, where it says what to do.
    let lines = text::wrap(&notice.text, usize::from(area.width.saturating_sub(4)));
    let lines: Vec<_> = lines.into_iter().take(3).collect();
    let count = u16::try_from(lines.len()).unwrap_or(1);
    let top = (area.y + 1).saturating_sub(count);
    for (row, line) in (0..).zip(lines) {
        let here = Rect {
            y: top + row,
            height: 1,
            ..area
        };
        let lead = if row == 0 {
            format!(" {mark} ")
        } else {
            "   ".to_owned()
        };
        put(
            frame,
            here,
            Line::styled(
                text::fit(&format!("{lead}{line}"), area.width.into()),
                style,
            ),
        );
    }
}

fn hint_bar(app: &App, theme: Theme, frame: &mut Frame<'_>, area: Rect, body: Rect) {
    let mut hints: Vec<(String, &str)> = match &app.dialog {
        Some(crate::tui::question::Dialog::Help { .. }) if help::overflow(app, body) > 0 => vec![
            ("down".to_owned(), "more"),
            ("any other key".to_owned(), "closes"),
        ],
        Some(crate::tui::question::Dialog::Help { .. }) => vec![("any key".to_owned(), "closes")],
        Some(_) => vec![("enter".to_owned(), "take"), ("esc".to_owned(), "leave")],
        None => hints(app)
            .into_iter()
            .map(|(key, title)| (key.to_string(), title))
            .collect(),
    };
    // A key without its words says nothing. The help, which has all of them, goes last.
    let help = Action::Help.entry().title;
    let width = |(key, title): &(String, &str)| key.width() + title.width() + 4;
    while hints.iter().map(width).sum::<usize>() > usize::from(area.width) + 2 {
        let last = hints.iter().rposition(|(_, title)| *title != help);
        match last {
            Some(last) => drop(hints.remove(last)),
            None => break,
        }
    }
    let mut spans = vec![Span::raw(" ")];
    for (key, title) in hints {
        spans.push(Span::styled(key, theme.style(Role::Key)));
        spans.push(Span::styled(
            format!(" {title}   "),
            theme.style(Role::Muted),
        ));
    }
    put(frame, area, Line::from(spans));
}
