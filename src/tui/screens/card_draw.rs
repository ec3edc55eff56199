//! The fitting card of the selected job.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use crate::book::desk::OpenJob;
use crate::job::fields::clean;
use crate::tui::seen::Seen;
use crate::tui::widgets::text::{cut, fit};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{at, put};
use crate::views::card::{Emphasis, arranged, made_again_line, second_card};

/// Columns of a name; the card cuts its values to what is left.
const LABEL: usize = 7;

/// How many rows the card takes down to what was measured on the face: who, prescription, places,
/// distances and angles, sides and pads. Frame, lenses and order come after them.
pub(crate) fn rows_of_measurements(seen: Seen<'_>, width: u16) -> u16 {
    let (Some(open), Some(facts)) = (seen.card, seen.facts) else {
        return 1;
    };
    let width = usize::from(width.saturating_sub(2));
    let lines = arranged(&open.job, &open.number, facts, width);
    let last = lines
        .iter()
        .rposition(|l| matches!(l.label, "bend" | "head"));
    u16::try_from(last.map_or(lines.len(), |at| at + 1)).unwrap_or(u16::MAX)
}

/// Draws the card of the job that is selected.
pub(crate) fn draw(seen: Seen<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let (Some(open), Some(facts)) = (seen.card, seen.facts) else {
        put(
            frame,
            at(area, 0),
            Line::styled(" no job selected", theme.style(Role::Muted)),
        );
        return;
    };
    if let Some(until) = seen.card_hides {
        blind(open, until, theme, frame, area);
        return;
    }
    let width = usize::from(area.width.saturating_sub(2));
    let mut lines = arranged(&open.job, &open.number, facts, width);
    // Below the card where there is room: a pane of its own height shows the card alone.
    lines.extend(second_card(&open.job, &open.acceptances, facts, width));
    lines.extend(made_again_line(&open.job, width));
    for (row, line) in (0..area.height).zip(lines) {
        let style = match line.emphasis {
            Emphasis::Plain => theme.style(Role::Value),
            Emphasis::Strong => theme.style(Role::Title),
            Emphasis::Alert => theme.style(Role::Warning),
        };
        let mut spans = vec![Span::raw(" ")];
        let mut room = width;
        if !line.label.is_empty() {
            spans.push(Span::styled(
                fit(line.label, LABEL),
                theme.style(Role::Label),
            ));
            room = room.saturating_sub(LABEL);
        }
        spans.push(Span::styled(cut(&line.value, room), style));
        put(frame, at(area, row), Line::from(spans));
    }
}

/// The card of a pair that is being read: by what it is known in the tray, nothing of the order.
fn blind(open: &OpenJob, until: &str, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let job = &open.job;
    let words = |parts: &[&Option<String>]| {
        let parts: Vec<&str> = parts.iter().filter_map(|p| p.as_deref()).collect();
        clean(&parts.join(" "))
    };
    let lines = [
        ("", words(&[&job.wearer.name]), Role::Title),
        ("", open.number.clone(), Role::Value),
        ("Rx", until.to_owned(), Role::Muted),
        (
            "frame",
            words(&[&job.frame.name, &job.frame.colour]),
            Role::Value,
        ),
        ("order", words(&[&job.order.laboratory]), Role::Value),
    ];
    let width = usize::from(area.width.saturating_sub(2));
    for (row, (label, value, role)) in (0..area.height).zip(lines) {
        let lead = if label.is_empty() { 0 } else { LABEL };
        let spans = vec![
            Span::raw(" "),
            Span::styled(fit(label, lead), theme.style(Role::Label)),
            Span::styled(cut(&value, width.saturating_sub(lead)), theme.style(role)),
        ];
        put(frame, at(area, row), Line::from(spans));
    }
}
