//! The gate: what holds the next move, worst first, each with its numbers and its ways out.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};

use super::State;
use super::state::remedies_for;
use crate::job::{Gate, Job};
use crate::judge::gate::of_finding;
use crate::judge::gate::{Acceptable, Finding, Severity, lets_through};
use crate::tui::action::Action;
use crate::tui::gating::summary;
use crate::tui::screens::draw::Draws;
use crate::tui::seen::Seen;
use crate::tui::widgets::text::{fit, scroll, wrap};
use crate::tui::widgets::theme::{Mark, Role, Theme};
use crate::tui::widgets::{at, line_across, put, remedy, selected};

impl Draws for State {
    fn draw(&self, seen: Seen<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
        let Some(job) = seen.job else { return };
        let width = usize::from(area.width.saturating_sub(2));
        let lines = job
            .findings
            .get(self.selected)
            .map_or_else(Vec::new, |f| detail_lines(f, &job.open.job, seen, width));
        // The list keeps a few rows whatever there is to say of the selected finding.
        let needed = u16::try_from(lines.len()).unwrap_or(u16::MAX);
        let detail_rows = needed
            .clamp(9.min(area.height / 2), 18)
            .min(area.height.saturating_sub(6));
        let [top, list, rule, detail] = Layout::vertical([
            Constraint::Length(2),
            Constraint::Min(3),
            Constraint::Length(1),
            Constraint::Length(detail_rows),
        ])
        .areas(area);
        let stage = job.open.job.stage();
        let (text, role) = match stage.next_gate() {
            None => (
                format!(
                    " The job is {}; there is no further move.",
                    job.open.job.stage_words()
                ),
                Role::Value,
            ),
            Some(gate) => {
                let open = !lets_through(&job.findings);
                let role = if open { Role::Warning } else { Role::Good };
                (
                    format!(" {stage} → {gate}: {}", summary(&job.findings)),
                    role,
                )
            }
        };
        put(frame, at(top, 0), Line::styled(text, theme.style(role)));
        let first = scroll(self.selected, job.findings.len(), list.height.into());
        for (row, (place, f)) in (0..list.height).zip(job.findings.iter().enumerate().skip(first)) {
            draw_line(f, place == self.selected, theme, frame, at(list, row));
        }
        line_across(frame, rule, theme);
        for (row, (line, role)) in (0..detail.height).zip(lines) {
            put(
                frame,
                at(detail, row),
                Line::styled(format!(" {line}"), theme.style(role)),
            );
        }
    }
}

fn mark(f: &Finding) -> Mark {
    if f.settled.is_some() {
        return Mark::Settled;
    }
    match f.severity {
        Severity::Stop => Mark::Stop,
        Severity::Warning => Mark::Warning,
        Severity::Note => Mark::Note,
    }
}

fn draw_line(f: &Finding, is: bool, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let mark = mark(f);
    let eye = f.eye.word().unwrap_or("");
    let room = usize::from(area.width).saturating_sub(1 + 12 + 6);
    let line = Line::from(vec![
        Span::styled(
            if is { ">" } else { " " },
            selected(theme, is, theme.style(Role::Value)),
        ),
        Span::styled(
            fit(theme.mark(mark), 12),
            selected(theme, is, theme.style(mark.role())),
        ),
        Span::styled(fit(eye, 6), selected(theme, is, theme.style(Role::Label))),
        Span::styled(
            fit(unsaid(&f.message, eye), room),
            selected(theme, is, theme.style(Role::Value)),
        ),
    ]);
    put(frame, area, line);
}

/// Returns a message without the eye at its beginning, which the column before it says already.
fn unsaid<'a>(message: &'a str, eye: &str) -> &'a str {
    if eye.is_empty() {
        return message;
    }
    let rest = message.strip_prefix(eye).and_then(|m| m.strip_prefix(' '));
    rest.map_or(message, |rest| {
        rest.strip_prefix("eye: ")
            .or_else(|| rest.strip_prefix("eye "))
            .unwrap_or(rest)
    })
}

fn detail_lines(f: &Finding, job: &Job, seen: Seen<'_>, width: usize) -> Vec<(String, Role)> {
    let mut lines: Vec<(String, Role)> = wrap(&f.message, width)
        .into_iter()
        .map(|l| (l, Role::Title))
        .collect();
    let limit = f
        .limit
        .as_deref()
        .map_or_else(String::new, |l| format!("limit {l}; "));
    let rest = format!("{limit}source: {}; {}", f.source, f.check);
    lines.extend(wrap(&rest, width).into_iter().map(|l| (l, Role::Label)));
    if let Some(a) = &f.settled {
        let text = format!(
            "accepted by {} ({}) on {}: {}",
            a.by, a.role, a.on, a.reason
        );
        lines.extend(wrap(&text, width).into_iter().map(|l| (l, Role::Good)));
        return lines;
    }
    let table = of_finding(job, f, &seen.practice.thresholds);
    let by_key = recorded(f, seen, table.is_some());
    lines.extend(wrap(&by_key, width).into_iter().map(|l| (l, Role::Good)));
    if let Some(remedy) = table {
        let is_made = f.gate == Gate::Collected;
        lines.extend(remedy::lines(&remedy, is_made));
        return lines;
    }
    let who = match f.accept {
        Acceptable::Nobody => "nobody may accept it".to_owned(),
        may @ Acceptable::Registrant => format!("may be accepted by: {}", may.word()),
    };
    if f.severity != Severity::Note {
        lines.push((who, Role::Label));
    }
    for way in f.ways_out {
        let text = format!("- {way}");
        lines.extend(wrap(&text, width).into_iter().map(|l| (l, Role::Value)));
    }
    lines
}

/// What the key of the remedy does, in words; nothing where it does nothing. Above a table of what can be
/// done, in short.
fn recorded(f: &Finding, seen: Seen<'_>, in_short: bool) -> String {
    let remedies = remedies_for(f, seen);
    let (Some(key), Some(first)) = (seen.keys.shown(Action::Remedy), remedies.first()) else {
        return String::new();
    };
    let words = if in_short { &first.short } else { &first.words };
    if remedies.len() == 1 {
        format!("{key}: {words}")
    } else {
        format!("{key}, enter: {words}")
    }
}
