//! The worklist: today, then the open jobs in the order in which they need somebody.

use std::cmp::Ordering;

use chrono::NaiveDate;
use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

use super::text::{cut, fit, scroll};
use super::theme::{Role, Theme};
use super::{at, card, pane, put, selected};
use crate::app::App;
use crate::app::action::Action;
use crate::desk::{BackupState, JobLine};
use crate::job::Stage;

pub(super) fn draw(app: &App, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let (list, side) = pane::split_for_list(frame, area, theme);
    let today = today(app, usize::from(list.width.saturating_sub(2)));
    let count = u16::try_from(today.len()).unwrap_or(4);
    for (row, (label, value, role)) in (0..).zip(&today) {
        let line = Line::from(vec![
            Span::styled(format!(" {}", fit(label, 17)), theme.style(Role::Label)),
            Span::styled(value.clone(), theme.style(*role)),
        ]);
        put(frame, at(list, row), line);
    }
    // In a low window the head of the list parts it from the day.
    let above = count + u16::from(list.height > count + 12);
    let rest = Rect {
        y: list.y + above.min(list.height),
        height: list.height.saturating_sub(above),
        ..list
    };
    lines(
        &app.worklist.lines,
        app.worklist.selected,
        app.today,
        theme,
        frame,
        rest,
    );
    if app.worklist.lines.is_empty() {
        let (new, look) = (
            app.keymap.shown(Action::NewJob),
            app.keymap.shown(Action::Lookup),
        );
        let text = format!(
            " No job is open. {} begins one; {} finds past ones.",
            new.unwrap_or_default(),
            look.unwrap_or_default()
        );
        put(
            frame,
            at(rest, 1),
            Line::styled(text, theme.style(Role::Value)),
        );
    }
    card::draw(app, theme, frame, side);
}

/// What matters today: label, text, how it weighs.
fn today(app: &App, width: usize) -> Vec<(&'static str, String, Role)> {
    let lines = &app.worklist.lines;
    let room = width.saturating_sub(18);
    // No more is put together than there is room for: hundreds of jobs may be held.
    let names = |those: Vec<&JobLine>, more: &dyn Fn(&JobLine) -> String| {
        let mut text = String::new();
        for line in those {
            if text.width() > room {
                break;
            }
            if !text.is_empty() {
                text.push_str(", ");
            }
            text.push_str(&more(line));
        }
        cut(&text, room)
    };
    let mut collections: Vec<_> = lines
        .iter()
        .filter(|l| l.collection_at.is_some_and(|m| m.0.date() == app.today))
        .collect();
    collections.sort_by_key(|l| l.collection_at);
    let late: Vec<_> = lines.iter().filter(|l| l.late).collect();
    let waiting: Vec<_> = lines
        .iter()
        .filter(|l| {
            l.stage == Stage::Ordered && !l.late && l.due_on.is_some_and(|d| d <= app.today)
        })
        .collect();
    let held: Vec<_> = lines.iter().filter(|l| !l.held.is_empty()).collect();
    let or_none = |text: String, role| {
        if text.is_empty() {
            ("none".to_owned(), Role::Muted)
        } else {
            (text, role)
        }
    };
    let time = |l: &JobLine| {
        let at = l
            .collection_at
            .map_or_else(String::new, |m| m.0.format("%H:%M ").to_string());
        let ready = if l.stage == Stage::Verified {
            ""
        } else {
            " (not verified)"
        };
        format!("{at}{}{ready}", l.wearer)
    };
    let since = |l: &JobLine| {
        let days = l.due_on.map_or(0, |d| (app.today - d).num_days());
        format!("{} {days} d", l.wearer)
    };
    let by = |l: &JobLine| format!("{} {}", l.wearer, l.held.iter().next().unwrap_or_default());
    let (c, cr) = or_none(names(collections, &time), Role::Value);
    let (l, lr) = or_none(names(late, &since), Role::Warning);
    let (v, vr) = or_none(names(waiting, &|l: &JobLine| l.wearer.clone()), Role::Value);
    let count = held.len();
    let (h, hr) = or_none(names(held, &by), Role::Value);
    let h = if count > 0 {
        cut(&format!("{count}: {h}"), width.saturating_sub(18))
    } else {
        h
    };
    let waits = not_collected(app, width.saturating_sub(18));
    let backup = app.worklist.backup.as_ref();
    let (backup, warns) = backup.map_or_else(|| (String::new(), false), BackupState::words);
    let backup_role = if warns { Role::Warning } else { Role::Muted };
    let mut rows = vec![
        ("collections", c, cr),
        ("laboratory late", l, lr),
        ("to verify", v, vr),
        ("held", h, hr),
    ];
    rows.extend(waits);
    rows.extend([(
        "backup",
        cut(&backup, width.saturating_sub(18)),
        backup_role,
    )]);
    if !app.security.sign_in {
        let text = cut("off: a name is enough to act", width.saturating_sub(18));
        rows.push(("sign-in", text, Role::Warning));
    }
    rows
}

/// Who waits without an appointment, those first who have waited too long; no row when nobody does.
fn not_collected(app: &App, room: usize) -> Option<(&'static str, String, Role)> {
    let late = app.waiting.iter().filter(|w| w.uncollected);
    let others = app.waiting.iter().filter(|w| !w.uncollected);
    let is_late = app.waiting.iter().any(|w| w.uncollected);
    let all: Vec<String> = late
        .chain(others)
        .map(|w| format!("{} {}", w.wearer, w.words()))
        .collect();
    let role = if is_late { Role::Warning } else { Role::Value };
    let label = if is_late { "not collected" } else { "waiting" };
    (!all.is_empty()).then(|| (label, cut(&all.join("; "), room), role))
}

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

/// Draws lines of jobs with their head; shared with the look-up.
pub(super) fn lines(
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
            format!("past {}", line.stands_at())
        } else {
            line.stands_at()
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
