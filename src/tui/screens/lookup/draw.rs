//! The look-up: jobs while the name is still being typed, with the fitting card beside them.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::text::{Line, Span};

use super::State;
use crate::tui::action::Action;
use crate::tui::screens::card_draw as card;
use crate::tui::screens::draw::Draws;
use crate::tui::screens::job_lines_draw::job_lines;
use crate::tui::seen::Seen;
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{at, pane, put};

impl Draws for State {
    fn draw(&self, seen: Seen<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
        let (list, side) = pane::split(frame, area, theme);
        let lead = " find: ";
        put(
            frame,
            at(list, 0),
            Line::from(vec![
                Span::styled(lead, theme.style(Role::Label)),
                Span::styled(self.line.text().to_owned(), theme.style(Role::Title)),
            ]),
        );
        if !seen.is_asked {
            let column = lead.len() + self.line.cursor_column();
            let column = u16::try_from(column)
                .unwrap_or(u16::MAX)
                .min(list.width.saturating_sub(1));
            frame.set_cursor_position(Position::new(list.x + column, list.y));
        }
        let rest = Rect {
            y: list.y + 2.min(list.height),
            height: list.height.saturating_sub(2),
            ..list
        };
        if self.found.is_empty() {
            let text = if self.line.text().is_empty() {
                " Type a few letters of a name, a number, a phone, a date of birth or a frame."
                    .to_owned()
            } else {
                let new = seen.keys.shown(Action::NewJobNamed).unwrap_or_default();
                format!(" Nothing found. Fewer letters find more; {new} begins a new job.")
            };
            put(
                frame,
                at(rest, 0),
                Line::styled(text, theme.style(Role::Muted)),
            );
        } else {
            job_lines(&self.found, self.selected, seen.today, theme, frame, rest);
        }
        card::draw(seen, theme, frame, side);
    }
}
