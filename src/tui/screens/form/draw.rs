//! The form of a job: its sections, the entries of both eyes side by side, what is worked out.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Position, Rect};
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

use super::{State, history_draw as history, verify_draw as verify};
use crate::job::Section;
use crate::job::fields::{self, Field, Room, unit_after};
use crate::judge::gate::{Finding, Severity};
use crate::judge::rules::carry::{NotCarried, origin_words};
use crate::trade::eye::Eye;
use crate::tui::action::Action;
use crate::tui::form_rows::{self, FormRow, TABS};
use crate::tui::gating::summary;
use crate::tui::job_view::JobView;
use crate::tui::screens::draw::Draws;
use crate::tui::seen::Seen;
use crate::tui::widgets::text::{cut, fit, scroll, typed, wrap, wrap_parts};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{at, frame_front as picture, put};
use crate::views::{MAY_BE_OUT, WorkedLine};

/// Columns of a label.
const LABEL: usize = 24;
/// Columns of a label beside the form.
const SIDE_LABEL: usize = 25;
/// Columns of a value of one eye.
const VALUE: usize = 15;

/// What is drawn: the form, and the job that it shows.
#[derive(Clone, Copy)]
struct Form<'a> {
    state: &'a State,
    view: &'a JobView,
    seen: Seen<'a>,
}

impl Draws for State {
    fn draw(&self, seen: Seen<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
        let Some(view) = seen.job else { return };
        let job = &Form {
            state: self,
            view,
            seen,
        };
        let [tabs, head, body, detail, foot] = Layout::vertical([
            Constraint::Length(1),
            Constraint::Length(1),
            Constraint::Min(0),
            Constraint::Length(2),
            Constraint::Length(1),
        ])
        .areas(area);
        draw_tabs(job, theme, frame, tabs);
        let (form_area, side) = split(job, body);
        if job.state.section().is_none() {
            history::draw(&job.view.history, job.state.row, theme, frame, body);
        } else {
            draw_rows(job, theme, frame, head, form_area);
            if let Some(side) = side {
                draw_side(job, theme, frame, side);
            }
        }
        draw_detail(job, theme, frame, detail);
        draw_foot(job, theme, frame, foot);
    }
}

/// Returns the form's part and, where there is room, the part beside or below it.
fn split(job: &Form<'_>, body: Rect) -> (Rect, Option<Rect>) {
    let form = 1 + LABEL + 2 * VALUE + 3;
    let form = u16::try_from(form).unwrap_or(60);
    match job.state.section() {
        // Frames have one value a row, so that even a narrow screen has room for the picture.
        Some(Section::Frame) => {
            let form = 43.min(body.width);
            let [left, right] =
                Layout::horizontal([Constraint::Length(form), Constraint::Min(0)]).areas(body);
            (left, (right.width >= 20).then_some(right))
        }
        Some(Section::Readings) if body.width < form + 40 && body.height >= 14 => {
            let [top, below] =
                Layout::vertical([Constraint::Min(6), Constraint::Percentage(50)]).areas(body);
            (top, Some(below))
        }
        Some(_) if body.width >= form + 30 => {
            let [left, right] =
                Layout::horizontal([Constraint::Length(form), Constraint::Min(0)]).areas(body);
            (left, Some(right))
        }
        _ => (body, None),
    }
}

fn draw_tabs(job: &Form<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let wide = area.width >= 100;
    let mut spans = Vec::new();
    for (place, (name, _)) in TABS.iter().enumerate() {
        let text = if wide {
            format!(" {} {name} ", place + 1)
        } else {
            format!(" {name}")
        };
        let is = place == job.state.tab;
        let role = if is { Role::Focus } else { Role::Label };
        // Brackets say which one is current where no style does.
        let text = match (is, wide) {
            (true, false) => format!("[{name}]"),
            (true, true) => format!("[{} {name}]", place + 1),
            (false, _) => text,
        };
        spans.push(Span::styled(text, theme.style(role)));
    }
    let total: usize = spans.iter().map(Span::width).sum();
    if total > usize::from(area.width) {
        // On the narrowest screens only the neighbours fit.
        spans.drain(
            ..job
                .state
                .tab
                .saturating_sub(1)
                .min(TABS.len().saturating_sub(5)),
        );
        // What does not fit whole is left out, and that something is is said.
        let mut used: usize = spans.iter().map(Span::width).sum();
        let cut = used > usize::from(area.width);
        while used > usize::from(area.width).saturating_sub(2)
            && let Some(last) = spans.pop()
        {
            used -= last.width();
        }
        if cut {
            spans.push(Span::styled(" …", theme.style(Role::Muted)));
        }
    }
    put(frame, area, Line::from(spans));
}

fn draw_rows(job: &Form<'_>, theme: Theme, frame: &mut Frame<'_>, head: Rect, area: Rect) {
    let rows = form_rows::of_tab(job.state.tab);
    if rows.iter().any(FormRow::is_pair) {
        let text = format!(
            " {}{}  {}",
            fit("", LABEL),
            fit("right", VALUE),
            fit("left", VALUE)
        );
        put(frame, head, Line::styled(text, theme.style(Role::Label)));
    }
    let top = scroll(job.state.row, rows.len(), area.height.into());
    for (line, (place, row)) in (0..area.height).zip(rows.iter().enumerate().skip(top)) {
        draw_row(
            job,
            row,
            place == job.state.row,
            theme,
            frame,
            at(area, line),
        );
    }
    if rows.len() > usize::from(area.height) && area.width > 4 {
        let more = if top + usize::from(area.height) < rows.len() {
            "↓"
        } else {
            "↑"
        };
        let here = Rect {
            x: area.right() - 1,
            width: 1,
            ..at(area, area.height.saturating_sub(1))
        };
        put(frame, here, Line::styled(more, theme.style(Role::Muted)));
    }
}

fn draw_row(
    job: &Form<'_>,
    row: &FormRow,
    here: bool,
    theme: Theme,
    frame: &mut Frame<'_>,
    area: Rect,
) {
    let mut spans = vec![Span::styled(
        format!(
            "{}{}",
            if here { ">" } else { " " },
            fit(row.label(), LABEL)
        ),
        theme.style(if here { Role::Title } else { Role::Label }),
    )];
    let worked = worked(job, row);
    let eyes: &[Eye] = if row.is_pair() {
        &Eye::BOTH
    } else {
        &[Eye::Right]
    };
    let mut being_typed = None;
    for eye in eyes {
        let field = row.field(*eye);
        let on = here && (!row.is_pair() || job.state.eye == *eye);
        let width = if row.is_pair() { VALUE } else { VALUE * 2 + 2 };
        let width = width.min(usize::from(area.width).saturating_sub(LABEL + 3));
        let width = if row.is_pair() {
            width
        } else {
            yielding(width, worked.as_deref(), area.width)
        };
        let before: usize = spans.iter().map(Span::width).sum();
        if let Some(edit) = job.state.edit().filter(|e| e.path == field.full_path()) {
            let (mut shown, column) = typed(edit.line.text(), edit.line.cursor_column(), width);
            if let Some(offer) = offer(job) {
                shown = fit(&format!("{}   {offer}", shown.trim_end()), width);
            }
            spans.push(Span::styled(shown, theme.style(Role::Focus)));
            being_typed = Some((before, width, edit, column));
        } else {
            let value = fields::show(&job.view.open.job, field);
            let text = match (value.is_empty(), not_carried_of(job, field)) {
                (true, None) => offer(job).filter(|_| on).unwrap_or_else(|| "·".to_owned()),
                // A word and not a style alone tells it from this pair's own.
                (true, Some(earlier)) => {
                    format!(
                        "was {}",
                        with_unit(fields::show_value(field, Some(&earlier.value)), field)
                    )
                }
                (false, _) => with_unit(value.clone(), field),
            };
            let role = match (on, value.is_empty()) {
                (true, _) => Role::Focus,
                (false, true) => Role::Muted,
                (false, false) => Role::Value,
            };
            spans.push(Span::styled(fit(&text, width), theme.style(role)));
        }
        let (mark, role) = match mark_of(&job.view.findings, field) {
            (" ", _) if job.view.open.job.origins.contains_key(&field.full_path()) => {
                ("c", Role::Note)
            }
            other => other,
        };
        spans.push(Span::styled(format!("{mark} "), theme.style(role)));
    }
    let used: usize = spans.iter().map(Span::width).sum();
    let room = usize::from(area.width).saturating_sub(used + 1);
    if let Some(text) = worked
        && room > 8
    {
        spans.push(Span::styled(cut(&text, room), theme.style(Role::Muted)));
    }
    put(frame, area, Line::from(spans));
    if let Some((before, width, edit, column)) = being_typed {
        let mut x = before + column;
        // A whole power is longer than its place: it is seen whole, over the text that follows it.
        if edit.line.text().width() >= width {
            let room_from = |start: usize| usize::from(area.width).saturating_sub(start + 1);
            let fits = edit.line.text().width() < room_from(before);
            let start = if fits { before } else { LABEL + 1 };
            let room = room_from(start);
            let (shown, column) = typed(edit.line.text(), edit.line.cursor_column(), room);
            let over = Rect {
                x: area.x + u16::try_from(start).unwrap_or(0),
                width: u16::try_from(room).unwrap_or(0),
                ..area
            };
            put(frame, over, Line::styled(shown, theme.style(Role::Focus)));
            x = start + column;
        }
        if !job.seen.is_asked {
            let x = area.x + u16::try_from(x).unwrap_or(0);
            let x = x.min(area.right().saturating_sub(1));
            frame.set_cursor_position(Position::new(x, area.y));
        }
    }
}

/// Returns what is offered for the entry under the cursor, with its key before it: without that it
/// would look like a value.
fn offer(job: &Form<'_>) -> Option<String> {
    let key = job.seen.keys.shown(Action::TakeOffered)?;
    Some(format!("{key}: {}", job.state.offered(job.seen)?))
}

/// Returns a value with its unit as it is drawn.
fn with_unit(value: String, field: &Field) -> String {
    value + &unit_after(field.unit, Room::Little)
}

/// Returns what the job did not take over into a field that is still empty.
fn not_carried_of<'a>(job: &Form<'a>, field: &Field) -> Option<&'a NotCarried> {
    let path = field.full_path();
    job.view.not_carried.iter().find(|l| l.path == path)
}

/// Returns where the value of a field comes from, or why the earlier one is not carried.
fn from_elsewhere(job: &Form<'_>, field: &Field) -> Option<String> {
    if let Some(origin) = job.view.open.job.origins.get(&field.full_path()) {
        return Some(format!("carried {}", origin_words(origin)));
    }
    let earlier =
        not_carried_of(job, field).filter(|_| field.value(&job.view.open.job).is_none())?;
    let shown = with_unit(fields::show_value(field, Some(&earlier.value)), field);
    Some(format!("{shown}, {}", earlier.why))
}

/// Returns what is worked out from a row's entries.
fn worked(job: &Form<'_>, row: &FormRow) -> Option<String> {
    let paths: Vec<String> = Eye::BOTH
        .iter()
        .map(|e| row.field(*e).full_path())
        .collect();
    let of_row = || job.view.worked.iter().filter(|w| paths.contains(&w.field));
    let is_budget = |w: &&WorkedLine| w.label.ends_with(MAY_BE_OUT);
    // How far an entry may be out is what decides whether to take it again: it is not cut first.
    // The row itself says what may be out.
    let mut texts: Vec<String> = of_row().filter(is_budget).map(|w| w.text.clone()).collect();
    let others = of_row().filter(|w| !is_budget(w));
    texts.extend(others.map(|w| format!("{} {}", w.label, w.text)));
    // What both eyes share is said once.
    let mut said = Vec::new();
    texts.retain(|t| {
        let is_new = !said.contains(t);
        said.push(t.clone());
        is_new
    });
    (!texts.is_empty()).then(|| texts.join("; "))
}

/// Returns the mark of the worst open finding about a field.
fn mark_of(findings: &[Finding], field: &Field) -> (&'static str, Role) {
    let path = field.full_path();
    let worst = findings
        .iter()
        .filter(|f| f.field == path)
        .max_by_key(|f| (f.is_open(), f.severity));
    match worst {
        None => (" ", Role::Muted),
        Some(f) if f.settled.is_some() => ("+", Role::Good),
        Some(f) => match f.severity {
            Severity::Stop => ("!", Role::Stop),
            Severity::Warning => ("?", Role::Warning),
            Severity::Note => ("i", Role::Note),
        },
    }
}

/// Whether a worked-out value belongs to a section: powers are the prescription's and the lenses'.
fn belongs(field: &str, section: Section) -> bool {
    let of = field.split('.').next().unwrap_or_default();
    of == section.word()
        || of == "powers" && matches!(section, Section::Prescription | Section::Lenses)
}

/// The letter of the eye a path belongs to, or a blank.
fn eye_letter(path: &str) -> &'static str {
    // The lens of an eye is a part of its section too: `lenses.right`.
    let is_of = |eye: Eye| path.split('.').any(|part| part == eye.word());
    if is_of(Eye::Right) {
        "R"
    } else if is_of(Eye::Left) {
        "L"
    } else {
        " "
    }
}

/// What is beside the form: the frame's picture, the readings against their tolerances, or what is
/// worked out.
fn draw_side(job: &Form<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let area = Rect {
        x: area.x + 1,
        width: area.width.saturating_sub(1),
        ..area
    };
    match job.state.section() {
        Some(Section::Frame) => match picture::FrontPicture::of(&job.view.open.job) {
            Ok(front) => picture::frame_front(frame, area, &front, false),
            Err(missing) => {
                let text = format!("The front is drawn once there is: {}.", missing.join(", "));
                for (row, line) in (1..area.height).zip(wrap(&text, area.width.into())) {
                    put(
                        frame,
                        at(area, row),
                        Line::styled(line, theme.style(Role::Muted)),
                    );
                }
            }
        },
        Some(Section::Readings) => {
            verify::draw(&job.view.open.job, job.seen.practice, theme, frame, area);
        }
        _ => {
            // What belongs to the section first; the rest follows where there is room.
            let own = |w: &&WorkedLine| job.state.section().is_some_and(|s| belongs(&w.field, s));
            let first = job.view.worked.iter().filter(own);
            let then = job.view.worked.iter().filter(|w| !own(w));
            // A power that is cut is a wrong power: what is longer than its row goes on below.
            let room = usize::from(area.width).saturating_sub(SIDE_LABEL + 2);
            let mut row = 0;
            for w in first.chain(then) {
                let role = if own(&w) { Role::Value } else { Role::Muted };
                let texts = wrap_parts(&w.text, room);
                let rows = u16::try_from(texts.len()).unwrap_or(u16::MAX);
                if rows > area.height.saturating_sub(row) {
                    break;
                }
                for (nth, text) in texts.into_iter().enumerate() {
                    let label = match nth {
                        0 => {
                            let name = cut(&w.label, SIDE_LABEL - 1);
                            format!("{} {}", eye_letter(&w.field), fit(&name, SIDE_LABEL))
                        }
                        _ => " ".repeat(SIDE_LABEL + 2),
                    };
                    let line = Line::from(vec![
                        Span::styled(label, theme.style(Role::Label)),
                        Span::styled(text, theme.style(role)),
                    ]);
                    put(frame, at(area, row), line);
                    row += 1;
                }
            }
        }
    }
}

/// The columns of a value that is alone in its row: it yields what it does not need to what is
/// worked out from it.
fn yielding(width: usize, worked: Option<&str>, room: u16) -> usize {
    let wanted = worked.map_or(0, UnicodeWidthStr::width);
    let used = 1 + LABEL + width + 3 + wanted;
    let over = used.saturating_sub(room.into());
    width.saturating_sub(over).max(VALUE)
}

/// What is to be said of the entry under the cursor: why it was not kept, what a check says of it,
/// or what to type.
fn draw_detail(job: &Form<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let Some(field) = job.state.field() else {
        return;
    };
    let path = field.full_path();
    let error = job.state.edit().and_then(|e| e.error.clone());
    let finding = job
        .view
        .findings
        .iter()
        .filter(|f| f.field == path)
        .max_by_key(|f| (f.is_open(), f.severity));
    let (text, role) = match (error, finding) {
        (Some(error), _) => (error, Role::Stop),
        (None, Some(f)) if job.state.edit().is_none() => (f.message.clone(), Role::Warning),
        _ => from_elsewhere(job, field)
            .map_or_else(|| (field.hint(), Role::Muted), |t| (t, Role::Note)),
    };
    let width = usize::from(area.width.saturating_sub(2));
    let mut lines: Vec<(String, Role)> =
        wrap(&text, width).into_iter().map(|l| (l, role)).collect();
    // What is worked out is cut short beside the entry; here it is whole.
    let row = form_rows::of_tab(job.state.tab)
        .get(job.state.row)
        .and_then(|r| worked(job, r));
    match (lines.len(), row) {
        (1, Some(text)) => lines.push((cut(&text, width), Role::Value)),
        // That something is missing does not say what may be typed.
        (1, None) if role == Role::Warning => lines.push((cut(&field.hint(), width), Role::Muted)),
        _ => {}
    }
    for (row, (line, role)) in (0..area.height).zip(lines) {
        put(
            frame,
            at(area, row),
            Line::styled(format!(" {line}"), theme.style(role)),
        );
    }
}

/// The stage of the job and what its next move meets.
fn draw_foot(job: &Form<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let stage = job.view.open.job.stage();
    let text = match stage.next_gate() {
        None => format!(" {}", job.view.open.job.stage_words()),
        Some(gate) => {
            let key = job.seen.keys.shown(Action::Gate).unwrap_or_default();
            format!(
                " {stage} → {gate}: {}   ({key} shows them)",
                summary(&job.view.findings)
            )
        }
    };
    let open = job.view.findings.iter().any(Finding::is_open);
    let role = if open { Role::Warning } else { Role::Good };
    let mut spans = vec![Span::styled(text, theme.style(role))];
    for q in &job.view.open.questions {
        spans.push(Span::styled(
            format!("   asked the {}: {}", q.of, cut(&q.text, 40)),
            theme.style(Role::Warning),
        ));
    }
    put(frame, area, Line::from(spans));
}
