//! The collections of the day: the current handover, its checks in order.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};
use serde_json::Value;
use unicode_width::UnicodeWidthStr;

use super::checks::{
    HandoverCheck, agreed, is_answered, measured_field, read_again, typed_because,
};
use super::state::{State, answered, steps_now};
use crate::job::Job;
use crate::job::fields::{self, at};
use crate::tui::action::Action;
use crate::tui::screens::card_draw as card;
use crate::tui::screens::draw::Draws;
use crate::tui::seen::Seen;
use crate::tui::widgets::text::{cut, fit, flush_end, scroll, wrap};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{at, pane, put, selected};

impl Draws for State {
    fn draw(&self, seen: Seen<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
        let rows = card::rows_of_measurements(seen, area.width);
        let (main, side) = pane::split_for_checks(frame, area, theme, rows);
        let [jobs, list] =
            Layout::vertical([Constraint::Length(1), Constraint::Min(0)]).areas(main);
        if self.lines.is_empty() {
            nobody(seen, theme, frame, main);
            return;
        }
        put(frame, jobs, handovers(self, seen, theme, jobs.width.into()));
        if let Some(open) = seen.card {
            let steps = steps_now(seen);
            let below = detail(self, seen, &steps, &open.job, usize::from(list.width));
            let foot = u16::try_from(below.len()).unwrap_or(0);
            let [list, foot] =
                Layout::vertical([Constraint::Min(0), Constraint::Length(foot)]).areas(list);
            let top = scroll(self.step, steps.len(), list.height.into());
            for (row, (place, step)) in (0..list.height).zip(steps.iter().enumerate().skip(top)) {
                let is = place == self.step;
                draw_step(seen, (step, is), &open.job, theme, frame, at(list, row));
            }
            for (row, (text, role)) in (0..foot.height).zip(below) {
                put(frame, at(foot, row), Line::styled(text, theme.style(role)));
            }
        }
        card::draw(seen, theme, frame, side);
    }
}

/// Without a handover today: who waits instead.
fn nobody(seen: Seen<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let text = "No verified pair has an appointment today. Select one on the worklist and come here to hand it over now.";
    let lines = wrap(text, usize::from(area.width).saturating_sub(1));
    let said = lines.into_iter().map(|l| (format!(" {l}"), Role::Muted));
    let waiting = seen.waiting.iter().map(|waits| {
        let text = format!(" {} {}", fit(&cut(&waits.wearer, 20), 21), waits.words());
        let role = if waits.uncollected {
            Role::Warning
        } else {
            Role::Value
        };
        (cut(&text, area.width.into()), role)
    });
    for (row, (text, role)) in (0..area.height).zip(said.chain(waiting)) {
        put(frame, at(area, row), Line::styled(text, theme.style(role)));
    }
}

/// The handovers of the day by their times, as many as there is room for, the current one among
/// them; then how many of its checks are answered.
fn handovers(state: &State, seen: Seen<'_>, theme: Theme, width: usize) -> Line<'static> {
    let (done, all) = answered(seen);
    let count = format!("{done} of {all} answered ");
    let room = width.saturating_sub(count.width() + 2);
    let front = state.selected;
    let texts: Vec<String> = state
        .lines
        .iter()
        .enumerate()
        .map(|(place, line)| {
            let of_today = line.collection_at.filter(|m| m.0.date() == seen.today);
            let time =
                of_today.map_or_else(|| "now".to_owned(), |m| m.0.format("%H:%M").to_string());
            let text = format!("{time} {}", cut(&line.wearer, 20));
            if place == front {
                format!("[{text}]")
            } else {
                format!(" {text} ")
            }
        })
        .collect();
    let up_to_front = |from: usize| -> usize {
        let shown = texts.get(from..=front).unwrap_or_default();
        shown.iter().map(|t| t.width()).sum()
    };
    let from = (0..=front)
        .find(|from| up_to_front(*from) <= room)
        .unwrap_or(front);
    let mut spans = vec![Span::raw(" ")];
    let mut free = room;
    for (place, text) in texts.into_iter().enumerate().skip(from) {
        if text.width() > free && place > front {
            break;
        }
        free = free.saturating_sub(text.width());
        let is = place == front;
        let role = if is { Role::Focus } else { Role::Label };
        spans.push(Span::styled(text, theme.style(role)));
    }
    spans.push(Span::styled(
        flush_end(&count, free + 1 + count.width()),
        theme.style(Role::Muted),
    ));
    Line::from(spans)
}

/// The most rows that are given to what a step is about.
const DETAIL: usize = 4;

/// How the step under the cursor is done, or what is said and why; then how the pair has waited.
fn detail(
    state: &State,
    seen: Seen<'_>,
    steps: &[HandoverCheck],
    job: &Job,
    width: usize,
) -> Vec<(String, Role)> {
    let mut lines = Vec::new();
    if let Some(step) = steps.get(state.step) {
        if !step.hint.is_empty() {
            let name = job.frame.name.as_deref();
            let hint = match name.filter(|_| step.path == at!(handover.frame_checked).full()) {
                Some(name) => format!("{}: {name}", step.hint),
                None => step.hint.to_owned(),
            };
            lines.push((hint, Role::Muted));
        }
        let typed = typed_because(step, job, seen.practice).filter(|_| !is_answered(step, job));
        if let Some(why) = typed {
            lines.push((format!("type what you read: {why}"), Role::Muted));
        }
        for point in &step.points {
            let text = format!("{} ({})", point.say, point.why);
            lines.push((text, Role::Value));
        }
    }
    let waits = seen
        .waiting
        .iter()
        .find(|w| state.line().is_some_and(|l| l.number == w.number));
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
    seen: Seen<'_>,
    (step, is): (&HandoverCheck, bool),
    job: &Job,
    theme: Theme,
    frame: &mut Frame<'_>,
    area: Rect,
) {
    let (answer, role) = answer(seen, step, is, job);
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
fn answer(seen: Seen<'_>, step: &HandoverCheck, is: bool, job: &Job) -> (String, Role) {
    let Some(field) = fields::find(step.path) else {
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
            let shown = fields::show_value(field, other.as_ref());
            let unit = if shown.is_empty() { "" } else { field.unit };
            let shown = if shown.is_empty() {
                "·".to_owned()
            } else {
                shown
            };
            let fitted = measured_field(step)
                .map(|f| fields::show(job, f))
                .filter(|t| !t.is_empty())
                .map_or_else(String::new, |t| {
                    let asks = is && other.is_none();
                    if asks && agreed(step, job, seen.practice).is_ok() {
                        let yes = seen.keys.shown(Action::Yes).unwrap_or_default();
                        format!("  (measured {t}; {yes}: the same)")
                    } else if asks && typed_because(step, job, seen.practice).is_some() {
                        format!("  (measured {t}; type it)")
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
