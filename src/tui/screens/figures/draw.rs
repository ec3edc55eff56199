//! Figures of the practice's work: numbers first, beside them their shape, below them what they mean.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};

use super::State;
use crate::tui::screens::draw::Draws;
use crate::tui::seen::Seen;
use crate::tui::widgets::text::{cut, fit, flush_end, scroll, wrap};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{WIDE, at, line_across, put, selected};
use crate::views::figures::line::{Figure, FigureLine as Counted};
use crate::views::figures::page::{Page, PageKind};
use crate::views::figures::rate::Change;
use crate::views::figures::sparkline::{PARTS, bar, drawn};
use crate::views::figures::table::{change, heading, said};

/// Columns of how many of how many.
const COUNT: usize = 9;
/// Columns of a share with its interval, or of days.
const SHARE: usize = 20;
/// Columns of a shape.
const SHAPE: usize = PARTS;
/// Columns of the figure before.
const BEFORE: usize = 8;
/// Columns of what changed, in a wide window.
const CHANGE: usize = 20;
/// Rows of what is said of the selected figure and of the page.
const DETAIL: u16 = 5;

impl Draws for State {
    fn draw(&self, _seen: Seen<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
        let [tabs, period, list, rule, detail] = Layout::vertical([
            Constraint::Length(1),
            Constraint::Length(1),
            Constraint::Min(3),
            Constraint::Length(1),
            Constraint::Length(DETAIL.min(area.height.saturating_sub(8))),
        ])
        .areas(area);
        draw_tabs(self, theme, frame, tabs);
        let Some((report, page)) = self.report.as_ref().zip(self.page()) else {
            put(frame, period, Line::raw(" Nothing is counted yet."));
            return;
        };
        let text = cut(&format!(" {}", heading(report)), area.width.into());
        put(frame, period, Line::styled(text, theme.style(Role::Title)));
        draw_list(self, page, theme, frame, list);
        line_across(frame, rule, theme);
        if rows(page).len() > usize::from(list.height) {
            let (place, count) = (self.selected + 1, page.lines.len());
            draw_place(place, count, theme, frame, rule);
        }
        if let Some(line) = page.lines.get(self.selected) {
            draw_detail(page, line, theme, frame, detail);
        }
    }
}

/// Says where in a list that is longer than its room the selected figure is.
fn draw_place(place: usize, count: usize, theme: Theme, frame: &mut Frame<'_>, rule: Rect) {
    let text = format!(" {place} of {count} ");
    let width = u16::try_from(text.len()).unwrap_or(0);
    let here = Rect {
        x: rule.right().saturating_sub(width + 1),
        width,
        ..rule
    };
    put(frame, here, Line::styled(text, theme.style(Role::Muted)));
}

/// Names all pages, the current one in brackets.
fn draw_tabs(state: &State, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let spans: Vec<_> = PageKind::ALL
        .into_iter()
        .enumerate()
        .map(|(place, kind)| {
            let (role, text) = if place == state.page {
                (Role::Focus, format!("[{}]", kind.title()))
            } else {
                (Role::Label, format!(" {} ", kind.title()))
            };
            Span::styled(text, theme.style(role))
        })
        .collect();
    put(frame, area, Line::from(spans));
}

/// A row of the list: the name of a group, or the place of a figure.
enum ListRow<'p> {
    Group(&'p Counted),
    Figure(usize, &'p Counted),
}

fn rows(page: &Page) -> Vec<ListRow<'_>> {
    let mut rows = Vec::new();
    let mut group = "";
    for (place, line) in page.lines.iter().enumerate() {
        if line.group != group {
            group = line.group;
            rows.push(ListRow::Group(line));
        }
        rows.push(ListRow::Figure(place, line));
    }
    rows
}

fn draw_list(state: &State, page: &Page, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let rows = rows(page);
    let at_row = rows
        .iter()
        .position(|r| matches!(r, ListRow::Figure(place, _) if *place == state.selected))
        .unwrap_or(0);
    let first = scroll(at_row, rows.len(), area.height.into());
    for (line, row) in (0..area.height).zip(rows.iter().skip(first)) {
        let text = match row {
            ListRow::Group(first) => group_line(first, theme, area.width),
            ListRow::Figure(place, figure) => {
                let is = *place == state.selected;
                figure_line(figure, is, theme, area.width)
            }
        };
        put(frame, at(area, line), text);
    }
}

fn label_width(width: u16) -> usize {
    let more = if width >= WIDE { CHANGE + 1 } else { 0 };
    usize::from(width).saturating_sub(1 + COUNT + 1 + SHARE + 1 + SHAPE + 1 + BEFORE + more)
}

fn group_line(first: &Counted, theme: Theme, width: u16) -> Line<'static> {
    let share = match first.now {
        Figure::Days(_) => "median (half) 9 in 10",
        Figure::Rate(_) => "share (95 %)",
        Figure::Count { .. } => "",
    };
    let name = label_width(width) + COUNT;
    let rest = format!(
        "{} {} {}",
        flush_end(share, SHARE + 1),
        fit(
            if first.parts.is_some() {
                "in 12 parts"
            } else {
                ""
            },
            SHAPE
        ),
        flush_end("before", BEFORE)
    );
    Line::from(vec![
        Span::styled(
            fit(&format!(" {}", first.group), name + 1),
            theme.style(Role::Title),
        ),
        Span::styled(rest, theme.style(Role::Muted)),
    ])
}

/// How many, and what is made of it.
fn numbers(figure: &Figure) -> (String, String) {
    match figure {
        Figure::Count { count } => (count.to_string(), String::new()),
        Figure::Rate(r) => (format!("{}/{}", r.count, r.of), r.said()),
        Figure::Days(d) => {
            let days = d
                .median()
                .zip(d.quantile(250))
                .zip(d.quantile(750).zip(d.quantile(900)));
            let text = days.map_or_else(
                || "none".to_owned(),
                |((median, low), (high, most))| format!("{median} ({low}-{high}) {most}"),
            );
            (d.number().to_string(), text)
        }
    }
}

/// The figure of the period before in few words.
fn before(line: &Counted) -> String {
    match &line.before {
        None => String::new(),
        Some(Figure::Count { count }) => count.to_string(),
        Some(Figure::Rate(r)) if r.is_enough() => r
            .share()
            .map_or_else(String::new, |p| format!("{:.1} %", p * 100.0)),
        Some(Figure::Rate(r)) if r.count + r.of == 0 => "none".to_owned(),
        Some(Figure::Rate(r)) => format!("{}/{}", r.count, r.of),
        Some(Figure::Days(d)) => d.median().map_or_else(
            || "none".to_owned(),
            |median| format!("{median} ({})", d.number()),
        ),
    }
}

/// What changed, where there are cases enough to say.
fn clear_change(line: &Counted) -> Option<Change> {
    change(line).filter(|c| *c != Change::TooFew)
}

fn shape(line: &Counted, is_ascii: bool) -> String {
    match (&line.parts, &line.now) {
        (Some(parts), _) => drawn(parts, is_ascii),
        (None, Figure::Rate(r)) if r.is_enough() => r
            .share()
            .map_or_else(String::new, |share| bar(share, SHAPE, is_ascii)),
        _ => String::new(),
    }
}

fn figure_line(line: &Counted, is: bool, theme: Theme, width: u16) -> Line<'static> {
    let (count, share) = numbers(&line.now);
    let mut text = format!(
        "{}{}{} {} {} {}",
        if is { ">" } else { " " },
        fit(&crate::text::printable(&line.label), label_width(width)),
        flush_end(&count, COUNT),
        flush_end(&share, SHARE),
        fit(&shape(line, theme.is_ascii()), SHAPE),
        flush_end(&before(line), BEFORE)
    );
    if width >= WIDE {
        text.push(' ');
        text.push_str(clear_change(line).map_or("", Change::word));
    }
    let style = selected(theme, is, theme.style(Role::Value));
    Line::styled(fit(&text, width.into()), style)
}

/// The selected figure in full, and what must be known to read the page.
fn draw_detail(page: &Page, line: &Counted, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let width = usize::from(area.width.saturating_sub(2));
    let mut full = format!(
        "{}, {}: {}",
        line.group,
        crate::text::printable(&line.label),
        said(&line.now)
    );
    if let Some(before) = &line.before {
        full.push_str("; before: ");
        full.push_str(&said(before));
    }
    if let Some(change) = clear_change(line) {
        full.push_str("; ");
        full.push_str(change.word());
    }
    full.push('.');
    let said = wrap(&full, width).into_iter().map(|l| (l, Role::Value));
    let note = wrap(page.note, width).into_iter().map(|l| (l, Role::Muted));
    for (row, (text, role)) in (0..area.height).zip(said.chain(note)) {
        let line = Line::styled(format!(" {text}"), theme.style(role));
        put(frame, at(area, row), line);
    }
}
