//! The locked screen: who may open it, and a line of dots. It shows nothing of the book.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::text::{Line, Span};

use crate::tui::App;
use crate::tui::action::Action;
use crate::tui::shell::locked::Lock;
use crate::tui::widgets::text::{cut, fit, scroll, wrap};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{at, line_across, put, selected};

/// The mark shown for each character of a secret.
pub(super) const DOT: &str = "•";

pub(crate) fn draw(app: &App, lock: &Lock, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let fixed = if app.today_is_fixed {
        " (trial day)"
    } else {
        ""
    };
    let head = Line::from(vec![
        Span::styled(" rimbook", theme.style(Role::Title)),
        Span::styled(" · ", theme.style(Role::Muted)),
        Span::styled("locked", theme.style(Role::Value)),
        Span::styled(
            format!(
                " · nobody signed in · {}{fixed}",
                app.today.format("%a %-d %b %Y")
            ),
            theme.style(Role::Muted),
        ),
    ]);
    put(frame, at(area, 0), head);
    line_across(frame, at(area, 1), theme);
    let width = usize::from(area.width.saturating_sub(4));
    let said = match &lock.was {
        Some(name) => format!(
            "Locked. {name} was signed in; what they had open waits for them. Somebody else begins at the worklist."
        ),
        None => "Locked. Nothing of the book is shown before somebody signs in.".to_owned(),
    };
    let mut row = 3;
    for line in wrap(&said, width) {
        put(
            frame,
            at(area, row),
            Line::styled(format!("  {line}"), theme.style(Role::Label)),
        );
        row += 1;
    }
    row += 1;
    let people = &app.staff.0;
    // Below the names: an empty row, the line, the refusal in two rows, the hints.
    let room = usize::from(area.height.saturating_sub(row + 6));
    let selected_place = lock.place(&app.staff);
    let top = scroll(selected_place, people.len(), room);
    for (place, person) in people.iter().enumerate().skip(top).take(room) {
        let is = place == selected_place;
        let text = format!(
            "{}{}, {}",
            if is { "> " } else { "  " },
            person.name,
            person.role.word()
        );
        let style = selected(theme, is, theme.style(Role::Value));
        let line = Line::from(vec![
            Span::raw("  "),
            Span::styled(fit(&cut(&text, width), width), style),
        ]);
        put(frame, at(area, row), line);
        row += 1;
    }
    row += 1;
    let label = "  PIN or passphrase: ";
    let room = width.saturating_sub(label.len());
    let dots = lock.line.count().min(room);
    let line = Line::from(vec![
        Span::styled(label, theme.style(Role::Label)),
        Span::styled(DOT.repeat(dots), theme.style(Role::Title)),
    ]);
    put(frame, at(area, row), line);
    let x = area.x + u16::try_from(label.len() + dots).unwrap_or(0);
    if row < area.height {
        let x = x.min(area.right().saturating_sub(1));
        frame.set_cursor_position(Position::new(x, area.y + row));
    }
    if let Some(error) = &lock.error {
        for line in wrap(error, width) {
            row += 1;
            put(
                frame,
                at(area, row),
                Line::styled(format!("  {line}"), theme.style(Role::Stop)),
            );
        }
    }
    hints(app, theme, frame, at(area, area.height.saturating_sub(1)));
}

fn hints(app: &App, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let quit = app.keymap.shown(Action::QuitNow).unwrap_or_default();
    let mut spans = vec![Span::raw(" ")];
    for (key, title) in [
        ("enter", "sign in"),
        ("up/down", "another name"),
        ("esc", "clear"),
        (quit.as_str(), "quit"),
    ] {
        spans.push(Span::styled(key.to_owned(), theme.style(Role::Key)));
        spans.push(Span::styled(
            format!(" {title}   "),
            theme.style(Role::Muted),
        ));
    }
    put(frame, area, Line::from(spans));
}
