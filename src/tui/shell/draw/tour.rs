//! What the tour says about the current screen.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;
use ratatui::widgets::{Block, BorderType, Clear};

use crate::tui::App;
use crate::tui::shell::tour::STOPS;
use crate::tui::widgets::text::wrap;
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{at, put};

/// The row from which a box of this height hides the least that is written, a line across not
/// counted; the lowest of those.
fn place(frame: &mut Frame<'_>, body: Rect, height: u16) -> u16 {
    let buffer = frame.buffer_mut();
    let written = |y: u16| {
        let row = (body.x..body.right()).filter_map(|x| buffer.cell((x, y)));
        row.filter(|cell| !matches!(cell.symbol(), " " | "─"))
            .count()
    };
    let last = body.bottom().saturating_sub(height);
    let hidden = |y: u16| (y..y + height).map(written).sum::<usize>();
    (body.y..=last)
        .rev()
        .min_by_key(|y| hidden(*y))
        .unwrap_or(last)
}

/// Draws the stop where it hides least of the screen it is about.
pub(crate) fn draw(app: &App, theme: Theme, frame: &mut Frame<'_>, body: Rect) {
    let Some((index, stop)) = app.tour.and_then(|i| STOPS.get(i).map(|s| (i, s))) else {
        return;
    };
    let width = body.width.saturating_sub(4);
    let lines = wrap(
        &stop.says(&app.keymap),
        usize::from(width.saturating_sub(4)),
    );
    let height = u16::try_from(lines.len() + 3)
        .unwrap_or(body.height)
        .min(body.height);
    let area = Rect {
        x: body.x + 2,
        y: place(frame, body, height),
        width,
        height,
    };
    frame.render_widget(Clear, area);
    let block = Block::bordered()
        .border_type(BorderType::Rounded)
        .border_style(theme.style(Role::Muted))
        .title(format!(" tour, {} of {} ", index + 1, STOPS.len()));
    let inside = block.inner(area);
    frame.render_widget(block, area);
    let inside = Rect {
        x: inside.x + 1,
        width: inside.width.saturating_sub(2),
        ..inside
    };
    for (row, line) in (0..inside.height).zip(&lines) {
        put(
            frame,
            at(inside, row),
            Line::styled(line.clone(), theme.style(Role::Value)),
        );
    }
    let keys = if index + 1 < STOPS.len() {
        "enter next   left back   esc end the tour"
    } else {
        "enter end the tour   left back"
    };
    let last = inside.height.saturating_sub(1);
    put(
        frame,
        at(inside, last),
        Line::styled(keys, theme.style(Role::Key)),
    );
}
