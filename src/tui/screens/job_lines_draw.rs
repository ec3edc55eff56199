//! Lines of jobs with their head: what comes next for each, and what holds it.

use std::cmp::Ordering;

use chrono::NaiveDate;
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use crate::book::desk::JobLine;
use crate::job::Stage;
use crate::tui::widgets::text::{cut, fit, scroll};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{at, put, selected};

/// What comes next for a job, in few words.
fn next(line: &JobLine, today: NaiveDate) -> (String, Role) {
    if let Some(at) = line.collection_at.filter(|_| line.stage == Stage::Verified) {
        let day = at.0.date();
        return if day == today {
            (at.0.format("today %H:%M").to_string(), Role::Title)
        } else {
            (at.0.format("%-d %b %H:%M").to_string(), Role::Value)
        };
    }
    if let Some(back) = line.review_on {
        let day = back.format("%-d %b");
        return match back.cmp(&today) {
            Ordering::Greater => (format!("back {day}"), Role::Value),
            Ordering::Equal => ("back today".to_owned(), Role::Title),
            Ordering::Less => (format!("back since {day}"), Role::Warning),
        };
    }
    match (line.stage, line.due_on, line.promised_on) {
        (Stage::Ordered, Some(due), _) if line.late => (
            format!("late {} d", (today - due).num_days()),
            Role::Warning,
        ),
        (Stage::Ordered, Some(due), _) => (format!("due {}", due.format("%-d %b")), Role::Value),
        (Stage::Collected | Stage::Cancelled, ..) => (String::new(), Role::Muted),
        (_, _, Some(promised)) => (
            format!("promised {}", promised.format("%-d %b")),
            Role::Value,
        ),
        _ => (String::new(), Role::Muted),
    }
}

/// Draws them, with the cursor on one of them.
pub(crate) fn job_lines(
    list: &[JobLine],
    chosen: usize,
    today: NaiveDate,
    theme: Theme,
    frame: &mut Frame<'_>,
    area: Rect,
) {
    let width = usize::from(area.width);
    let held_width = width.saturating_sub(2 + 9 + 21 + 10 + 16);
    let head = format!(
        "  {}{}{}{}{}",
        fit("job", 9),
        fit("wearer", 21),
        fit("stage", 10),
        fit("next", 16),
        fit("held by", held_width)
    );
    put(
        frame,
        at(area, 0),
        Line::styled(head, theme.style(Role::Label)),
    );
    let height = usize::from(area.height.saturating_sub(1));
    let top = scroll(chosen, list.len(), height);
    for (row, (place, line)) in (1..area.height).zip(list.iter().enumerate().skip(top)) {
        let is = place == chosen;
        let style = |role| selected(theme, is, theme.style(role));
        let (next, role) = next(line, today);
        let stage = if line.past {
            format!("past {}", line.stage_words())
        } else {
            line.stage_words()
        };
        // Words that say more than a stage take the room of a day that is not there.
        let (stage_width, next_width) = if next.is_empty() { (26, 0) } else { (10, 16) };
        let mut held = line.held.iter();
        let held = match (held.next(), held.count()) {
            (None, _) => String::new(),
            (Some(one), 0) => one.to_owned(),
            (Some(first), more) => format!("{first} +{more}"),
        };
        let spans = vec![
            Span::styled(if is { "> " } else { "  " }, style(Role::Value)),
            Span::styled(fit(&line.number, 9), style(Role::Label)),
            Span::styled(fit(&cut(&line.wearer, 20), 21), style(Role::Value)),
            Span::styled(fit(&stage, stage_width), style(Role::Value)),
            Span::styled(fit(&next, next_width), style(role)),
            Span::styled(fit(&held, held_width), style(Role::Muted)),
        ];
        put(frame, at(area, row), Line::from(spans));
    }
}
