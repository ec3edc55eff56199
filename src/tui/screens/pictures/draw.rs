//! The pictures of a job.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};

use super::State;
use crate::trade::eye::Eye;
use crate::tui::screens::draw::Draws;
use crate::tui::seen::Seen;
use crate::tui::widgets::frame_front::{FrontPicture, frame_front};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{plot, put};
use crate::views::pictures::PictureKind;
use crate::views::plot::Picture;

impl Draws for State {
    fn draw(&self, seen: Seen<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
        let Some(job) = seen.job else { return };
        let [tabs, body] =
            Layout::vertical([Constraint::Length(1), Constraint::Min(0)]).areas(area);
        let kind = self.kind();
        draw_tabs(self, theme, frame, tabs);
        let body = Rect {
            x: body.x + 1,
            width: body.width.saturating_sub(2),
            ..body
        };
        if kind == PictureKind::Front {
            match FrontPicture::of(&job.open.job) {
                Ok(front) => frame_front(frame, body, &front, theme.is_ascii()),
                Err(names) => {
                    let why = format!("For the frame front, record: {}.", names.join(", "));
                    plot::draw(frame, body, &Picture::Missing(why), theme);
                }
            }
            return;
        }
        if let Some(shown) = &self.picture {
            plot::draw(frame, body, shown, theme);
        }
    }
}

/// Names all pictures, the current one in brackets, and before them whose it is.
fn draw_tabs(state: &State, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let mut spans = Vec::new();
    if state.kind().is_per_eye() {
        let keys = if theme.is_ascii() {
            "up/down "
        } else {
            "↑↓ "
        };
        let whose = match state.eye {
            Eye::Right => " [R] L  ",
            Eye::Left => "  R [L] ",
        };
        spans.push(Span::styled(whose, theme.style(Role::Title)));
        spans.push(Span::styled(keys, theme.style(Role::Muted)));
    }
    let before = spans.len();
    for (place, kind) in PictureKind::ALL.iter().enumerate() {
        let is = place == state.place;
        let (role, text) = if is {
            (Role::Focus, format!("[{}]", kind.name()))
        } else {
            (Role::Label, format!(" {} ", kind.name()))
        };
        spans.push(Span::styled(text, theme.style(role)));
    }
    // On the narrowest screens the first names give way until the current one is seen.
    let mut gone = 0;
    while gone + 1 < state.place
        && spans.iter().map(Span::width).sum::<usize>() > usize::from(area.width)
    {
        spans.remove(before);
        gone += 1;
    }
    put(frame, area, Line::from(spans));
}
