//! The collections of the day: one handover in front, its checks in order.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use serde_json::Value;

use super::text::{cut, fit, scroll, wrap};
use super::theme::{Role, Theme};
use super::{at, card, pane, put, selected};
use crate::app::App;
use crate::app::action::Action;
use crate::app::collecting::{Step, as_measured, read_again, steps_now};
use crate::form;
use crate::job::Job;

pub(super) fn draw(app: &App, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let (main, side) = pane::split(frame, area, theme);
    let [jobs, list] = Layout::vertical([Constraint::Length(2), Constraint::Min(0)]).areas(main);
    if app.collections.lines.is_empty() {
        let text =
            " No verified pair has an appointment today. The worklist says what is not ready.";
        put(
            frame,
            at(jobs, 0),
            Line::styled(text, theme.style(Role::Muted)),
        );
        for (row, waits) in (0..list.height).zip(&app.waiting) {
            let text = format!(" {} {}", fit(&cut(&waits.wearer, 20), 21), waits.words());
            let role = if waits.uncollected {
                Role::Warning
            } else {
                Role::Value
            };
            let text = cut(&text, list.width.into());
            put(frame, at(list, row), Line::styled(text, theme.style(role)));
        }
        return;
    }
    let mut spans = vec![Span::raw(" ")];
    for (place, line) in app.collections.lines.iter().enumerate() {
        let time = line
            .collection_at
            .map_or_else(String::new, |m| m.0.format("%H:%M").to_string());
        let is = place == app.collections.selected;
        let text = format!("{time} {}", cut(&line.wearer, 20));
        let text = if is {
            format!("[{text}]")
        } else {
            format!(" {text} ")
        };
        let role = if is { Role::Focus } else { Role::Label };
        spans.push(Span::styled(text, theme.style(role)));
    }
    put(frame, at(jobs, 0), Line::from(spans));
    if let Some(open) = &app.card {
        let steps = steps_now(app);
        let yes = app.keymap.shown(Action::Yes).unwrap_or_default();
        let below = detail(app, &steps, &open.job, usize::from(list.width));
        let foot = u16::try_from(below.len()).unwrap_or(0);
        let [list, foot] =
            Layout::vertical([Constraint::Min(0), Constraint::Length(foot)]).areas(list);
        let top = scroll(app.collections.step, steps.len(), list.height.into());
        for (row, (place, step)) in (0..list.height).zip(steps.iter().enumerate().skip(top)) {
            draw_step(
                (step, place == app.collections.step),
                &yes,
                &open.job,
                theme,
                frame,
                at(list, row),
            );
        }
        for (row, (text, role)) in (0..foot.height).zip(below) {
            put(frame, at(foot, row), Line::styled(text, theme.style(role)));
        }
    }
    card::draw(app, theme, frame, side);
}

/// The most rows that are given to what a step is about.
const DETAIL: usize = 4;

/// How the step under the cursor is done, or what is said and why; then how the pair has waited.
fn detail(app: &App, steps: &[Step], job: &Job, width: usize) -> Vec<(String, Role)> {
    let mut lines = Vec::new();
    if let Some(step) = steps.get(app.collections.step) {
        if !step.hint.is_empty() {
            let name = job.frame.name.as_deref();
            let hint = match name.filter(|_| step.path == "handover.frame_checked") {
                Some(name) => format!("{}: {name}", step.hint),
                None => step.hint.to_owned(),
            };
            lines.push((hint, Role::Muted));
        }
        for point in &step.points {
            let text = format!("{} ({})", point.say, point.why);
            lines.push((text, Role::Value));
        }
    }
    let waits = app.waiting.iter().find(|w| {
        app.collections
            .lines
            .get(app.collections.selected)
            .is_some_and(|l| l.number == w.number)
    });
    if let Some(waits) = waits {
        lines.push((waits.words(), Role::Muted));
    }
    lines
        .into_iter()
        .flat_map(|(text, role)| {
            wrap(&text, width.saturating_sub(4))
                .into_iter()
                .map(move |l| (format!("  {l}"), role))
        })
        .take(DETAIL)
        .collect()
}

fn draw_step(
    (step, is): (&Step, bool),
    yes: &str,
    job: &Job,
    theme: Theme,
    frame: &mut Frame<'_>,
    area: Rect,
) {
    let (answer, role) = answer(step, is, yes, job);
    let line = Line::from(vec![
        Span::styled(
            if is { "> " } else { "  " },
            selected(theme, is, theme.style(Role::Value)),
        ),
        Span::styled(
            fit(step.question, 40),
            selected(theme, is, theme.style(Role::Value)),
        ),
        Span::styled(
            fit(&answer, usize::from(area.width).saturating_sub(42)),
            selected(theme, is, theme.style(role)),
        ),
    ]);
    put(frame, area, line);
}

/// Returns what was answered, with what was measured at the fitting beside a value.
fn answer(step: &Step, is: bool, yes: &str, job: &Job) -> (String, Role) {
    let Some(field) = form::find(step.path) else {
        return (String::new(), Role::Muted);
    };
    let value = field.value(job);
    if let Some(topic) = step.topic {
        let given = value
            .as_ref()
            .and_then(Value::as_array)
            .is_some_and(|list| list.iter().any(|v| v.as_str() == Some(topic.word())));
        return if given {
            ("yes".to_owned(), Role::Good)
        } else {
            ("·".to_owned(), Role::Muted)
        };
    }
    match value {
        Some(Value::Bool(true)) => ("yes".to_owned(), Role::Good),
        Some(Value::Bool(false)) => ("no".to_owned(), Role::Warning),
        other => {
            let shown = form::show_value(field, other.as_ref());
            let unit = if shown.is_empty() { "" } else { field.unit };
            let shown = if shown.is_empty() {
                "·".to_owned()
            } else {
                shown
            };
            let fitted = form::find(&step.path.replace("handover.", "fitting."))
                .map(|f| form::show(job, f))
                .filter(|t| !t.is_empty())
                .map_or_else(String::new, |t| {
                    let same = is && other.is_none() && as_measured(step, job).is_some();
                    if same {
                        format!("  (measured {t}; {yes}: the same)")
                    } else {
                        format!("  (measured {t})")
                    }
                });
            if read_again(step, job).is_some() {
                let text = format!("{shown} {unit}  adjusted since: read again");
                return (text, Role::Warning);
            }
            let role = if other.is_none() {
                Role::Muted
            } else {
                Role::Value
            };
            (format!("{shown} {unit}{fitted}"), role)
        }
    }
}
