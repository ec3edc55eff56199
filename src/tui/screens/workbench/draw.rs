//! The workbench: the list of calculations, fields, result, formula and picture.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Position, Rect};
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

use super::calculation::{Calculation, InputKind};
use super::picture::Drawing;
use super::request::{Origin, Outcome, shown};
use super::sheet::text_of;
use super::state::State;
use super::table;
use crate::tui::screens::draw::Draws;
use crate::tui::seen::Seen;
use crate::tui::widgets::frame_front::{FrontPicture, frame_front};
use crate::tui::widgets::text::{cut, fit, scroll, typed, wrap};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{WIDE, at, margin, plot, put};

/// Columns of the list.
const LIST: u16 = 30;
/// Columns of the fields.
const FIELDS: u16 = 44;
/// Columns of a field's name.
const LABEL: usize = 23;

impl Draws for State {
    fn draw(&self, seen: Seen<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
        let bench = self;
        let Some(calc) = bench.calculation() else {
            return;
        };
        let is_wide = area.width >= WIDE;
        let rest = if is_wide || !bench.in_fields {
            let [list, _, rest] = Layout::horizontal([
                Constraint::Length(LIST),
                Constraint::Length(1),
                Constraint::Min(0),
            ])
            .areas(area);
            draw_list(bench, theme, frame, list);
            rest
        } else {
            area
        };
        if !is_wide && !bench.in_fields {
            preview(bench, calc, theme, frame, rest);
            return;
        }
        let head = Line::from(vec![
            Span::styled(format!(" {}", calc.title), theme.style(Role::Title)),
            Span::styled(format!(" · {}", calc.group), theme.style(Role::Muted)),
        ]);
        put(frame, at(rest, 0), head);
        let body = below(rest, 1);
        // All fields where they fit beside a picture; else they scroll, down to a few rows.
        let wanted =
            u16::try_from(bench.visible().len().max(result_rows(bench, calc))).unwrap_or(u16::MAX);
        let words = formula_lines(calc, body.width.saturating_sub(2));
        let formula_rows = u16::try_from(words.len()).unwrap_or(3);
        let free = body.height.saturating_sub(formula_rows);
        let top_rows = wanted
            .max(4)
            .min(free.saturating_sub(picture_rows(&bench.drawing)).max(5))
            .min(free);
        let [top, formula, drawing] = Layout::vertical([
            Constraint::Length(top_rows),
            Constraint::Length(formula_rows),
            Constraint::Min(0),
        ])
        .areas(body);
        let [fields, results] =
            Layout::horizontal([Constraint::Length(FIELDS), Constraint::Min(0)]).areas(top);
        draw_fields(bench, seen, calc, theme, frame, fields);
        draw_results(bench, calc, theme, frame, results);
        draw_lines(&words, theme, frame, formula);
        draw_picture(bench, theme, frame, drawing);
    }
}

/// The rows a drawing is worth making in.
const fn picture_rows(drawing: &Drawing) -> u16 {
    match drawing {
        Drawing::None => 0,
        Drawing::Front(_) => 10,
        Drawing::Picture(_) | Drawing::Margins => 8,
    }
}

/// What is left of an area below some rows.
fn below(area: Rect, rows: u16) -> Rect {
    let rows = rows.min(area.height);
    Rect {
        y: area.y + rows,
        height: area.height - rows,
        ..area
    }
}

fn draw_list(bench: &State, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let mut rows: Vec<(String, Role)> = Vec::new();
    let (mut group, mut here) = ("", 0);
    for (place, calc) in table::all().iter().enumerate() {
        if calc.group != group {
            group = calc.group;
            rows.push((group.to_owned(), Role::Label));
        }
        let is = place == bench.calc;
        if is {
            here = rows.len();
        }
        let role = match (is, bench.in_fields) {
            (true, false) => Role::Focus,
            (true, true) => Role::Title,
            (false, _) => Role::Value,
        };
        rows.push((
            format!("{} {}", if is { ">" } else { " " }, calc.title),
            role,
        ));
    }
    let top = scroll(here, rows.len(), area.height.into());
    for (row, (text, role)) in (0..area.height).zip(rows.iter().skip(top)) {
        let text = fit(&format!(" {text}"), area.width.into());
        put(frame, at(area, row), Line::styled(text, theme.style(*role)));
    }
}

/// What a calculation is, beside the list where there is no room for more.
fn preview(bench: &State, calc: &Calculation, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    put(
        frame,
        at(area, 0),
        Line::styled(calc.title, theme.style(Role::Title)),
    );
    let words = formula_lines(calc, area.width.saturating_sub(1));
    draw_lines(&words, theme, frame, below(area, 1));
    let used = u16::try_from(words.len()).unwrap_or(4) + 2;
    let rows = u16::try_from(result_rows(bench, calc)).unwrap_or(4);
    let results = below(area, used);
    draw_results(bench, calc, theme, frame, results);
    draw_picture(bench, theme, frame, below(results, rows + 1));
}

fn draw_fields(
    bench: &State,
    seen: Seen<'_>,
    calc: &Calculation,
    theme: Theme,
    frame: &mut Frame<'_>,
    area: Rect,
) {
    let visible = bench.visible();
    let top = scroll(bench.row, visible.len(), area.height.into());
    for (row, (at_row, place)) in (0..area.height).zip(visible.iter().enumerate().skip(top)) {
        let Some(input) = calc.inputs.get(*place) else {
            continue;
        };
        let here = bench.in_fields && at_row == bench.row;
        // The parts of a power stand under it.
        let is_part = input
            .key
            .rsplit_once('.')
            .is_some_and(|(key, _)| calc.place(key).is_some());
        let lead = format!(
            "{}{}",
            if here { ">" } else { " " },
            if is_part { "  " } else { "" }
        );
        let label = fit(&format!("{lead}{}", input.label), LABEL);
        let mut spans = vec![Span::styled(
            label,
            theme.style(if here { Role::Title } else { Role::Label }),
        )];
        let width = usize::from(area.width).saturating_sub(LABEL + 1);
        if let Some(edit) = bench.editor.edit().filter(|_| here) {
            let line = &edit.line;
            let (text, column) = typed(line.text(), line.cursor_column(), width);
            spans.push(Span::styled(text, theme.style(Role::Focus)));
            if !seen.is_asked {
                let x = u16::try_from(LABEL + column).unwrap_or(0);
                let x = (area.x + x).min(area.right().saturating_sub(1));
                frame.set_cursor_position(Position::new(x, area.y + row));
            }
        } else {
            let entry = bench.entries().get(*place);
            let text = text_of(calc, bench.entries(), *place);
            let (word, role) = match entry.map(|e| e.origin) {
                _ if input.kind == InputKind::Power => ("", Role::Value),
                Some(Origin::Job) => (" job", Role::Value),
                Some(Origin::Rule) => (" by rule", Role::Value),
                Some(Origin::Typed) => ("", Role::Value),
                _ => ("", Role::Muted),
            };
            let text = match (text.is_empty(), input.unit, input.kind) {
                (true, ..) if input.optional || input.kind == InputKind::Power => "·".to_owned(),
                (true, ..) => "-".to_owned(),
                (false, _, InputKind::Choice(_)) if here => format!("‹ {text} ›"),
                (false, "", _) => text,
                (false, "°", _) => format!("{text}°"),
                (false, unit, _) => format!("{text} {unit}"),
            };
            let role = if here { Role::Focus } else { role };
            let text = cut(&text, width);
            let free = width.saturating_sub(text.width());
            spans.push(Span::styled(text, theme.style(role)));
            spans.push(Span::styled(cut(word, free), theme.style(Role::Muted)));
        }
        put(frame, at(area, row), Line::from(spans));
    }
    let more = match (top > 0, top + usize::from(area.height) < visible.len()) {
        (_, true) => "↓",
        (true, false) => "↑",
        (false, false) => return,
    };
    let corner = Rect {
        x: area.right().saturating_sub(2),
        width: 1,
        ..at(area, area.height.saturating_sub(1))
    };
    put(frame, corner, Line::styled(more, theme.style(Role::Muted)));
}

/// The values of a result in the order of the table.
fn values(bench: &State, calc: &Calculation) -> Vec<(&'static str, String)> {
    let Outcome::Worked(result) = &bench.outcome else {
        return Vec::new();
    };
    calc.outputs
        .iter()
        .filter_map(|o| Some((o.label, shown(o, result)?)))
        .collect()
}

fn result_rows(bench: &State, calc: &Calculation) -> usize {
    values(bench, calc).len().max(3)
}

fn draw_results(
    bench: &State,
    calc: &Calculation,
    theme: Theme,
    frame: &mut Frame<'_>,
    area: Rect,
) {
    let width = usize::from(area.width);
    let result = match &bench.outcome {
        Outcome::Refused(why) => {
            for (row, line) in (0..area.height).zip(wrap(why, width.saturating_sub(1))) {
                put(
                    frame,
                    at(area, row),
                    Line::styled(line, theme.style(Role::Warning)),
                );
            }
            return;
        }
        Outcome::Worked(result) => result,
    };
    if let Some(pass) = result.get("pass").and_then(serde_json::Value::as_bool) {
        let (text, role) = if pass {
            ("within every limit", Role::Good)
        } else {
            ("NOT within every limit", Role::Stop)
        };
        put(frame, at(area, 0), Line::styled(text, theme.style(role)));
        return;
    }
    let values = values(bench, calc);
    let label = values.iter().map(|(l, _)| l.width()).max().unwrap_or(0) + 1;
    for (row, (name, value)) in (0..area.height).zip(values) {
        let line = Line::from(vec![
            Span::styled(fit(name, label.min(width)), theme.style(Role::Label)),
            Span::styled(
                cut(&value, width.saturating_sub(label)),
                theme.style(if row == 0 { Role::Title } else { Role::Value }),
            ),
        ]);
        put(frame, at(area, row), line);
    }
}

fn formula_lines(calc: &Calculation, width: u16) -> Vec<(String, Role)> {
    let width = usize::from(width);
    let mut lines: Vec<_> = wrap(calc.formula, width)
        .into_iter()
        .map(|l| (l, Role::Value))
        .collect();
    lines.extend(
        wrap(&format!("Source: {}.", calc.source), width)
            .into_iter()
            .map(|l| (l, Role::Muted)),
    );
    lines
}

fn draw_lines(lines: &[(String, Role)], theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    for (row, (text, role)) in (0..area.height).zip(lines) {
        put(
            frame,
            at(area, row),
            Line::styled(format!(" {text}"), theme.style(*role)),
        );
    }
}

fn draw_picture(bench: &State, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    if area.height < 3 {
        return;
    }
    let area = Rect {
        x: area.x + 1,
        width: area.width.saturating_sub(2),
        ..area
    };
    match &bench.drawing {
        Drawing::None => {}
        Drawing::Picture(picture) => plot::draw(frame, area, picture, theme),
        Drawing::Front(job) => match FrontPicture::of(job) {
            Ok(front) => frame_front(frame, area, &front, theme.is_ascii()),
            Err(missing) => {
                let text = format!("The front is drawn once there is: {}.", missing.join(", "));
                put(
                    frame,
                    at(area, 0),
                    Line::styled(text, theme.style(Role::Muted)),
                );
            }
        },
        Drawing::Margins => draw_margins(bench, theme, frame, area),
    }
}

/// How much of each limit is used.
fn draw_margins(bench: &State, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let Outcome::Worked(result) = &bench.outcome else {
        return;
    };
    let lines = result.get("lines").and_then(serde_json::Value::as_array);
    for (row, line) in (0..area.height).zip(lines.into_iter().flatten()) {
        let text = |key: &str| {
            line.get(key)
                .and_then(serde_json::Value::as_str)
                .unwrap_or("")
        };
        let number = |key: &str| {
            line.get(key)
                .and_then(serde_json::Value::as_f64)
                .unwrap_or(f64::NAN)
        };
        let passes = line.get("pass").and_then(serde_json::Value::as_bool) == Some(true);
        let words = format!(
            "{} {} off {:>5.2} of {:>5.2}  ",
            fit(text("eye"), 5),
            fit(&text("what").replace('_', " "), 18),
            number("error"),
            number("limit"),
        );
        // An eighth may lie past its printed two decimals and still pass: its bar stops at full.
        let used = if passes {
            number("used_percent").min(100.0)
        } else {
            number("used_percent")
        };
        let room = area
            .width
            .saturating_sub(u16::try_from(words.width()).unwrap_or(0))
            .min(30);
        let mut spans = vec![Span::styled(words, theme.style(Role::Label))];
        let role = if passes { Role::Good } else { Role::Stop };
        spans.extend(
            margin::margin_bar(used, room, theme.is_ascii())
                .spans
                .into_iter()
                .map(|s| s.style(theme.style(role))),
        );
        put(frame, at(area, row), Line::from(spans));
    }
}
