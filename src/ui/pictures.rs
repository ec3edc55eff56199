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
use crate::worked::pictures::{Kind, picture};

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
    let shown = picture(kind, &job.open.job, &app.practice, app.pictures.eye);
    plot::draw(frame, body, &shown, theme);
}

/// Names all pictures, the one in front in brackets, and whose it is.
fn draw_tabs(app: &App, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let mut spans = Vec::new();
    for (place, kind) in Kind::ALL.iter().enumerate() {
        let is = place == app.pictures.place;
        let (role, text) = if is {
            (Role::Focus, format!("[{}]", kind.name()))
        } else {
            (Role::Label, format!(" {} ", kind.name()))
        };
        spans.push(Span::styled(text, theme.style(role)));
    }
    if app.pictures.kind().is_per_eye() {
        let (keys, whose) = match (theme.is_ascii(), app.pictures.eye) {
            (false, Eye::Right) => ("↑↓", "[R] L"),
            (false, Eye::Left) => ("↑↓", "R [L]"),
            (true, Eye::Right) => ("up/down", "[R] L"),
            (true, Eye::Left) => ("up/down", "R [L]"),
        };
        spans.push(Span::styled(
            format!("  {whose} "),
            theme.style(Role::Title),
        ));
        spans.push(Span::styled(keys, theme.style(Role::Muted)));
    }
    put(frame, area, Line::from(spans));
}
