//! Materials and base curves side by side: the worse eye in the table, both eyes of the selected row.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};

use super::State;
use crate::judge::derive::powers::written;
use crate::trade::eye::Eye;
use crate::tui::screens::draw::Draws;
use crate::tui::seen::Seen;
use crate::tui::widgets::text::{cut, fit, flush_end, scroll, wrap};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{WIDE, at, line_across, put, selected};
use crate::views::choices::{COLOUR_AT_MM, ChoiceRow, Column, Lens, Table};

/// Columns of the material's name.
const NAME: usize = 18;
/// Columns of a figure.
const FIGURE: usize = 8;
/// Rows of what is said of the selected row.
const DETAIL: u16 = 8;

impl Draws for State {
    fn draw(&self, seen: Seen<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
        let c = self;
        let table = match &c.table {
            Ok(table) => table,
            Err(missing) => {
                let text = format!(
                    "Nothing can be lined up yet. Enter first: {}.",
                    missing.join(", ")
                );
                let width = usize::from(area.width.saturating_sub(2));
                for (row, line) in (1..area.height).zip(wrap(&text, width)) {
                    let line = Line::styled(format!(" {line}"), theme.style(Role::Warning));
                    put(frame, at(area, row), line);
                }
                return;
            }
        };
        let [top, list, rule, detail] = Layout::vertical([
            Constraint::Length(3),
            Constraint::Min(3),
            Constraint::Length(1),
            Constraint::Length(DETAIL.min(area.height.saturating_sub(8))),
        ])
        .areas(area);
        draw_top(c, theme, frame, top);
        let first = scroll(c.selected, c.order.len(), list.height.into());
        for (line, place) in (0..list.height).zip(first..c.order.len()) {
            if let Some(row) = c.row(place) {
                let is = place == c.selected;
                put(frame, at(list, line), row_line(row, is, theme, list.width));
            }
        }
        line_across(frame, rule, theme);
        if c.order.len() > usize::from(list.height) {
            let text = format!(" {} of {} ", c.selected + 1, c.order.len());
            let width = u16::try_from(text.len()).unwrap_or(0);
            let here = Rect {
                x: rule.right().saturating_sub(width + 1),
                width,
                ..rule
            };
            put(frame, here, Line::styled(text, theme.style(Role::Muted)));
        }
        if let Some(row) = c.row(c.selected) {
            draw_detail(seen, table, row, theme, frame, detail);
        }
    }
}

/// What the rows are sorted by, in words, and the headings.
fn draw_top(c: &State, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let first = match (c.column, c.largest_first) {
        (Column::Material, false) => "as offered",
        (Column::Material, true) => "the other way round",
        (_, false) => "smallest first",
        (_, true) => "largest first",
    };
    let text = format!(
        " by {}, {first} · the worse eye, weight of both · * as recorded",
        c.column.title()
    );
    let text = cut(&text, area.width.into());
    put(
        frame,
        at(area, 0),
        Line::styled(text, theme.style(Role::Label)),
    );
    let arrow = match (theme.is_ascii(), c.largest_first) {
        (false, false) => "↑",
        (false, true) => "↓",
        (true, false) => "^",
        (true, true) => "v",
    };
    let mut titles = vec![Span::raw("  ")];
    let mut units = String::from("  ");
    for column in Column::ALL {
        let is = column == c.column;
        let title = format!("{}{}", column.title(), if is { arrow } else { "" });
        let (title, unit) = if column == Column::Material {
            (fit(&title, NAME), fit("", NAME))
        } else {
            (flush_end(&title, FIGURE), flush_end(column.unit(), FIGURE))
        };
        let role = if is { Role::Title } else { Role::Label };
        titles.push(Span::styled(title, theme.style(role)));
        units.push_str(&unit);
    }
    if area.width >= WIDE {
        let more = format!(
            "{}{}  impact",
            flush_end("index", FIGURE),
            flush_end("Abbe", FIGURE)
        );
        titles.push(Span::styled(more, theme.style(Role::Label)));
    }
    put(frame, at(area, 1), Line::from(titles));
    put(
        frame,
        at(area, 2),
        Line::styled(units, theme.style(Role::Muted)),
    );
}

/// Returns a value as it is shown, to the decimals that the model is worth.
fn figure(column: Column, value: f64) -> String {
    match column {
        Column::Material => String::new(),
        Column::Size => format!("{value:+.1}"),
        Column::Edge | Column::Centre | Column::Weight => format!("{value:.1}"),
        Column::Curve | Column::Error | Column::Colour => format!("{value:.2}"),
    }
}

fn row_line(row: &ChoiceRow, is: bool, theme: Theme, width: u16) -> Line<'static> {
    let style = selected(theme, is, theme.style(Role::Value));
    let mut text = format!(
        "{}{}{}{}",
        if is { ">" } else { " " },
        if row.is_recorded { "*" } else { " " },
        fit(row.material.key, NAME),
        flush_end(&figure(Column::Curve, row.base.get()), FIGURE)
    );
    let width = usize::from(width);
    if let Some(why) = row.refusal() {
        let room = width.saturating_sub(2 + NAME + FIGURE + 2);
        text.push_str("  ");
        text.push_str(&cut(&format!("cannot be made: {why}"), room));
        let style = selected(theme, is, theme.style(Role::Muted));
        return Line::styled(fit(&text, width), style);
    }
    for column in Column::ALL.into_iter().skip(2) {
        let shown = match row.value(column) {
            Some(value) => figure(column, value),
            None if column == Column::Error => no_error(row).to_owned(),
            None => "-".to_owned(),
        };
        text.push_str(&flush_end(&shown, FIGURE));
    }
    if width >= usize::from(WIDE) {
        let m = row.material;
        text.push_str(&flush_end(&format!("{:.3}", m.n_d), FIGURE));
        text.push_str(&flush_end(&format!("{:.0}", m.abbe), FIGURE));
        text.push_str(if m.impact_resistant {
            "  resistant"
        } else {
            "  no"
        });
    }
    Line::styled(fit(&text, width), style)
}

/// Why there is no error as worn, in the room of a figure.
fn no_error(row: &ChoiceRow) -> &'static str {
    let no_tilt = row
        .made()
        .any(|l| matches!(&l.worn, Err(why) if why == "no tilt recorded"));
    if no_tilt { "no tilt" } else { "-" }
}

fn draw_detail(
    seen: Seen<'_>,
    table: &Table,
    row: &ChoiceRow,
    theme: Theme,
    frame: &mut Frame<'_>,
    area: Rect,
) {
    let width = usize::from(area.width.saturating_sub(2));
    let m = row.material;
    let impact = if m.impact_resistant {
        "impact resistant"
    } else {
        "not impact resistant"
    };
    let mut lines = vec![(
        format!(
            "{} on {} D: index {:.3}, Abbe {:.0}, {:.2} g/cm³, {impact}",
            m.key, row.base, m.n_d, m.abbe, m.density_g_cm3
        ),
        Role::Title,
    )];
    if let Some(why) = row.refusal() {
        let text = format!("This lens cannot be made: {why}");
        lines.extend(wrap(&text, width).into_iter().map(|l| (l, Role::Warning)));
    } else {
        lines.push((
            format!(
                "{}{}{}{}  {}{}{}{}",
                fit("", 6),
                flush_end("edge", 11),
                flush_end("centre", FIGURE),
                flush_end("weight", FIGURE),
                fit("as worn", 23),
                flush_end("error", 7),
                flush_end("colour", 7),
                flush_end("size", 7)
            ),
            Role::Label,
        ));
        for eye in Eye::BOTH {
            if let Some(Ok(lens)) = row.lenses.get(eye) {
                lines.push((eye_line(eye, lens), Role::Value));
            }
        }
    }
    let text = notes(seen, table);
    lines.extend(wrap(&text, width).into_iter().map(|l| (l, Role::Muted)));
    for (line, (text, role)) in (0..area.height).zip(lines) {
        let text = cut(&format!(" {text}"), area.width.into());
        put(frame, at(area, line), Line::styled(text, theme.style(role)));
    }
}

fn eye_line(eye: Eye, l: &Lens) -> String {
    let (worn, error) = match &l.worn {
        Ok(w) => (written(w.rx), format!("{:.2}", w.error_d)),
        Err(why) => (why.clone(), "-".to_owned()),
    };
    format!(
        "{}{}{}{}  {}{}{}{}",
        fit(eye.word(), 6),
        flush_end(&format!("{:.1}-{:.1}", l.edge_min_mm, l.edge_max_mm), 11),
        flush_end(&format!("{:.1}", l.centre_mm), FIGURE),
        flush_end(&format!("{:.1}", l.weight_g), FIGURE),
        fit(&worn, 23),
        flush_end(&error, 7),
        flush_end(&figure(Column::Colour, l.colour_delta), 7),
        flush_end(
            &l.size_percent
                .map_or_else(|| "-".to_owned(), |p| figure(Column::Size, p)),
            7
        )
    )
}

/// What the figures rest on.
fn notes(seen: Seen<'_>, table: &Table) -> String {
    let fitting = seen.job.map(|j| &j.open.job.fitting);
    let angle = |of: Option<crate::trade::units::Degree>| {
        of.map_or_else(|| "not recorded".to_owned(), |a| format!("{a}°"))
    };
    let tilt = fitting.map_or_else(String::new, |f| {
        format!(
            "Tilt {}, face form {}. ",
            angle(f.pantoscopic_deg),
            angle(f.face_form_deg)
        )
    });
    let mut text = format!(
        "{tilt}Vogel's rule: {:.1} D. Colour: fringe {COLOUR_AT_MM:.0} mm off centre. Size: image against none worn.",
        table.vogel_d
    );
    let has_centre = seen
        .job
        .is_some_and(|j| j.open.job.lenses.centre_mm.is_some());
    if has_centre {
        text.push_str(" Centre of * as ordered, others as usual.");
    }
    if !table.supposed.is_empty() {
        text.push_str(" Supposed: ");
        text.push_str(&table.supposed.join("; "));
        text.push('.');
    }
    text
}
