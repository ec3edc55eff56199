//! The pictures of a job.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};

use super::picture::{FrontPicture, frame_front};
use super::plot;
use super::put;
use super::theme::{Role, Theme};
use crate::app::App;
use crate::eye::Eye;
use crate::plot::Picture;
use crate::views::pictures::Kind;

pub(super) fn draw(app: &App, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let Some(job) = &app.job else { return };
    let [tabs, body] = Layout::vertical([Constraint::Length(1), Constraint::Min(0)]).areas(area);
    let kind = app.pictures.kind();
    draw_tabs(app, theme, frame, tabs);
    let body = Rect {
        x: body.x + 1,
        width: body.width.saturating_sub(2),
        ..body
    };
    if kind == Kind::Front {
        match FrontPicture::of(&job.open.job) {
            Ok(front) => frame_front(frame, body, &front, theme.is_ascii()),
            Err(names) => {
                let why = format!("For the frame front, record: {}.", names.join(", "));
                plot::draw(frame, body, &Picture::Missing(why), theme);
            }
        }
        return;
    }
    if let Some(shown) = app.ready.picture() {
        plot::draw(frame, body, shown, theme);
    }
}

/// Names all pictures, the one in front in brackets, and before them whose it is.
fn draw_tabs(app: &App, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let mut spans = Vec::new();
    if app.pictures.kind().is_per_eye() {
        let keys = if theme.is_ascii() {
            "up/down "
        } else {
            "↑↓ "
        };
        let whose = match app.pictures.eye {
            Eye::Right => " [R] L  ",
            Eye::Left => "  R [L] ",
        };
        spans.push(Span::styled(whose, theme.style(Role::Title)));
        spans.push(Span::styled(keys, theme.style(Role::Muted)));
    }
    let before = spans.len();
    for (place, kind) in Kind::ALL.iter().enumerate() {
        let is = place == app.pictures.place;
        let (role, text) = if is {
            (Role::Focus, format!("[{}]", kind.name()))
        } else {
            (Role::Label, format!(" {} ", kind.name()))
        };
        spans.push(Span::styled(text, theme.style(role)));
    }
    // On the narrowest screens the first names give way until the one in front is seen.
    let mut gone = 0;
    while gone + 1 < app.pictures.place
        && spans.iter().map(Span::width).sum::<usize>() > usize::from(area.width)
    {
        spans.remove(before);
        gone += 1;
    }
    put(frame, area, Line::from(spans));
}
