//! The parcel: the list, the steps of the pair in hand with its order hidden, the verdict.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::text::{Line, Span};

use super::state::{State, findings};
use super::steps::Step;
use super::verdict::{Verdict, judge, others};
use crate::job::Job;
use crate::judge::rules::blind_reading::both_read;
use crate::tui::action::Action;
use crate::tui::screens::draw::Draws;
use crate::tui::seen::Seen;
use crate::tui::widgets::text::{cut, fit, scroll, wrap};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{at, margin, put, selected};

impl Draws for State {
    fn draw(&self, seen: Seen<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
        let Some(job) = self.pair(seen) else {
            list(self, seen, theme, frame, area);
            return;
        };
        let [head, body] =
            Layout::vertical([Constraint::Length(1), Constraint::Min(0)]).areas(area);
        let title = cut(&title(self, job), area.width.into());
        put(frame, head, Line::styled(title, theme.style(Role::Title)));
        if self.shows_verdict(seen) {
            verdict(self, seen, job, theme, frame, body);
        } else {
            steps(self, seen, theme, frame, body);
        }
    }
}

/// Whose pair it is, by what it is known in the tray: number, wearer, frame, laboratory.
fn title(state: &State, job: &Job) -> String {
    let parts = [
        state.in_hand.as_ref(),
        job.wearer.name.as_ref(),
        job.frame.name.as_ref(),
        job.frame.colour.as_ref(),
        job.order.laboratory.as_ref(),
    ];
    let parts: Vec<&str> = parts.into_iter().flatten().map(String::as_str).collect();
    let design = job.lenses.design.map_or("", crate::job::Design::word);
    format!(" {} · {design}", parts.join(" · "))
}

fn key(seen: Seen<'_>, action: Action) -> String {
    seen.keys.shown(action).unwrap_or_default()
}

fn list(state: &State, seen: Seen<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let p = state;
    let typed = p.number.text();
    let line = Line::from(vec![
        Span::styled(" number: ", theme.style(Role::Label)),
        Span::styled(format!("{typed}_"), theme.style(Role::Value)),
        Span::styled(
            "   type or scan it, or go to the job",
            theme.style(Role::Muted),
        ),
    ]);
    put(frame, at(area, 0), line);
    if p.lines.is_empty() {
        let text = " No pair is with a laboratory.";
        put(
            frame,
            at(area, 2),
            Line::styled(text, theme.style(Role::Muted)),
        );
        return;
    }
    let head = format!("  {}{}{}", fit("job", 11), fit("wearer", 24), "due");
    put(
        frame,
        at(area, 1),
        Line::styled(head, theme.style(Role::Label)),
    );
    let height = usize::from(area.height.saturating_sub(2));
    let top = scroll(p.selected, p.lines.len(), height);
    for (row, (place, job)) in (2..area.height).zip(p.lines.iter().enumerate().skip(top)) {
        let is = place == p.selected;
        let (due, role) = match job.due_on {
            _ if p.done.contains(&job.number) => ("sent back in this run".to_owned(), Role::Muted),
            Some(due) if job.late => {
                let days = (seen.today - due).num_days();
                (format!("late {days} d"), Role::Warning)
            }
            Some(due) if due == seen.today => ("today".to_owned(), Role::Title),
            Some(due) => (due.format("%-d %b").to_string(), Role::Value),
            None => ("no day given".to_owned(), Role::Muted),
        };
        let style = |role| selected(theme, is, theme.style(role));
        let spans = vec![
            Span::styled(if is { "> " } else { "  " }, style(Role::Value)),
            Span::styled(fit(&job.number, 11), style(Role::Label)),
            Span::styled(fit(&cut(&job.wearer, 23), 24), style(Role::Value)),
            Span::styled(fit(&due, 24), style(role)),
        ];
        put(frame, at(area, row), Line::from(spans));
    }
}

fn steps(state: &State, seen: Seen<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let all = state.steps(seen);
    let width = usize::from(area.width);
    let mut foot: Vec<(String, Role)> = Vec::new();
    let edit = state.editor.edit();
    if let Some(why) = edit.and_then(|e| e.error.as_ref()) {
        foot.extend(
            wrap(why, width.saturating_sub(4))
                .into_iter()
                .map(|l| (l, Role::Warning)),
        );
    } else if let Some(step) = all.get(state.row) {
        let hint = match step.yes_no {
            Some(_) => seen.keys.yes_or_no(),
            None if step.offered && step.answer.is_none() => {
                let leave = seen.keys.sentence("{down} leaves it out");
                format!("{leave}; {}", step.hint)
            }
            None => step.hint.to_owned(),
        };
        foot.push((hint, Role::Muted));
    }
    if all
        .iter()
        .any(|s| s.path.contains("repeats") && s.is_open())
    {
        let text = "This lens lies within the focimeter's own uncertainty of a limit. Take it off the stop and read it three times in all; the middle reading counts.";
        foot.extend(
            wrap(text, width.saturating_sub(4))
                .into_iter()
                .map(|l| (l, Role::Warning)),
        );
    }
    let key = seen.keys.shown(Action::Verdict).unwrap_or_default();
    let order = match state.pair(seen) {
        Some(_) if !state.hides(seen) => {
            format!("both lenses are read: {key} sets them against the order")
        }
        Some(job) if both_read(job) => "the order stays hidden until then".to_owned(),
        _ => "the order stays hidden until both lenses are read".to_owned(),
    };
    foot.push((order, Role::Muted));
    let height = u16::try_from(foot.len()).unwrap_or(1);
    let [list, below] =
        Layout::vertical([Constraint::Min(0), Constraint::Length(height)]).areas(area);
    let top = scroll(state.row, all.len(), list.height.into());
    for (row, (place, step)) in (0..list.height).zip(all.iter().enumerate().skip(top)) {
        one(state, step, place == state.row, theme, frame, at(list, row));
    }
    for (row, (text, role)) in (0..below.height).zip(foot) {
        let text = cut(&format!("  {text}"), width);
        put(frame, at(below, row), Line::styled(text, theme.style(role)));
    }
}

fn one(state: &State, step: &Step, is: bool, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let edit = state.editor.edit();
    let typed = edit.filter(|e| e.path == step.path);
    let (answer, role) = match (typed, &step.answer) {
        (Some(edit), _) => (format!("{}_", edit.line.text()), Role::Title),
        (None, Some(answer)) if answer == "no" || answer == "marked" || answer == "wrong" => {
            (answer.clone(), Role::Warning)
        }
        (None, Some(answer)) => (answer.clone(), Role::Value),
        (None, None) if step.needed => ("·".to_owned(), Role::Muted),
        (None, None) => ("· if it can be read".to_owned(), Role::Muted),
    };
    let style = |role| selected(theme, is, theme.style(role));
    let spans = vec![
        Span::styled(if is { "> " } else { "  " }, style(Role::Value)),
        Span::styled(fit(&step.question, 46), style(Role::Value)),
        Span::styled(
            fit(&answer, usize::from(area.width).saturating_sub(48)),
            style(role),
        ),
    ];
    put(frame, area, Line::from(spans));
}

fn verdict(
    state: &State,
    seen: Seen<'_>,
    job: &Job,
    theme: Theme,
    frame: &mut Frame<'_>,
    area: Rect,
) {
    let findings = findings(seen);
    let (verdict, report) = judge(job, findings, seen.practice);
    let (pass, back, steps) = (
        key(seen, Action::Move),
        key(seen, Action::SendBack),
        key(seen, Action::Verdict),
    );
    let values = |n: &usize| {
        if *n == 1 {
            "1 value is".to_owned()
        } else {
            format!("{n} values are")
        }
    };
    let (text, role) = match &verdict {
        Verdict::None(why) => (format!("NOT COMPARED: {why}"), Role::Warning),
        Verdict::Fails(n) => (
            format!(
                "FAILS: {} beyond the limit. {back} sends it back, {steps} shows the readings.",
                values(n)
            ),
            Role::Stop,
        ),
        Verdict::Held(n) => (
            format!(
                "WITHIN LIMITS, BUT HELD by {n} more, said below. {pass} shows them at the gate."
            ),
            Role::Warning,
        ),
        Verdict::Confirm(what) => (
            format!(
                "WITHIN LIMITS. By lens and parcel note as ordered: {what}? {}",
                seen.keys.yes_or_no()
            ),
            Role::Title,
        ),
        Verdict::Passes => (
            format!("PASSES: every value is within its limit. {pass} passes it."),
            Role::Good,
        ),
    };
    let width = usize::from(area.width);
    let room = width.saturating_sub(2);
    let mut lines: Vec<Line<'_>> = Vec::new();
    let mut say = |text: &str, role| {
        for line in wrap(text, room) {
            lines.push(Line::styled(format!(" {line}"), theme.style(role)));
        }
    };
    say(&text, role);
    for fault in state.faults(seen) {
        say(&fault, Role::Warning);
    }
    for finding in others(findings, report.as_ref()) {
        say(
            &format!("{}: {}", finding.severity.word(), finding.message),
            Role::Warning,
        );
    }
    let repeated: Vec<String> = crate::trade::eye::Eye::BOTH
        .into_iter()
        .filter(|eye| !job.readings.repeats.eye(*eye).is_empty())
        .map(|eye| format!("{eye} {}", crate::judge::derive::readings::count(job, eye)))
        .collect();
    if !repeated.is_empty() {
        say(
            &format!(
                "Readings: {}; the middle one of each counts.",
                repeated.join(", ")
            ),
            Role::Muted,
        );
    }
    if let Some(report) = &report {
        let table = margin::tolerance_table(report, area.width.saturating_sub(1), theme);
        lines.extend(table.into_iter().map(|l| {
            let mut spans = vec![Span::raw(" ")];
            let style = l.style;
            spans.extend(l.spans);
            Line::from(spans).style(style)
        }));
    }
    let most = lines.len().saturating_sub(area.height.into());
    let top = state.top.min(most);
    for (row, line) in (0..area.height).zip(lines.into_iter().skip(top)) {
        put(frame, at(area, row), line);
    }
}
