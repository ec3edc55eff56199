//! The worklist: today, then the open jobs in the order in which they need somebody.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

use super::State;
use crate::book::desk::{BackupState, JobLine};
use crate::job::Stage;
use crate::tui::action::Action;
use crate::tui::screens::card_draw as card;
use crate::tui::screens::draw::Draws;
use crate::tui::screens::job_lines_draw::job_lines;
use crate::tui::seen::Seen;
use crate::tui::widgets::text::{cut, fit};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{at, pane, put};

impl Draws for State {
    fn draw(&self, seen: Seen<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
        let (list, side) = pane::split_for_list(frame, area, theme);
        let today = today(seen, usize::from(list.width.saturating_sub(2)));
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
        job_lines(seen.lines, self.selected, seen.today, theme, frame, rest);
        if seen.lines.is_empty() {
            let (new, look) = (
                seen.keys.shown(Action::NewJob),
                seen.keys.shown(Action::Lookup),
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
        card::draw(seen, theme, frame, side);
    }
}

/// What matters today: label, text, how it weighs.
fn today(seen: Seen<'_>, width: usize) -> Vec<(&'static str, String, Role)> {
    let lines = seen.lines;
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
        .filter(|l| l.collection_at.is_some_and(|m| m.0.date() == seen.today))
        .collect();
    collections.sort_by_key(|l| l.collection_at);
    let late: Vec<_> = lines.iter().filter(|l| l.late).collect();
    let waiting: Vec<_> = lines
        .iter()
        .filter(|l| {
            l.stage == Stage::Ordered && !l.late && l.due_on.is_some_and(|d| d <= seen.today)
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
        let days = l.due_on.map_or(0, |d| (seen.today - d).num_days());
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
    let waits = not_collected(seen, width.saturating_sub(18));
    let backup = seen.backup;
    let (backup, warns) = backup.map_or_else(|| (String::new(), false), BackupState::words);
    let backup_role = if warns { Role::Warning } else { Role::Muted };
    let mut rows = vec![
        ("collections", c, cr),
        ("laboratory late", l, lr),
        ("to verify", v, vr),
        ("held", h, hr),
    ];
    rows.extend(waits);
    rows.extend(to_confirm(seen, width.saturating_sub(18)));
    rows.extend([(
        "backup",
        cut(&backup, width.saturating_sub(18)),
        backup_role,
    )]);
    if !seen.signs_in {
        let text = cut("off: a name is enough to act", width.saturating_sub(18));
        rows.push(("sign-in", text, Role::Warning));
    }
    rows
}

/// Names of whoever is signed in that others typed; no row where there are none.
fn to_confirm(seen: Seen<'_>, room: usize) -> Option<(&'static str, String, Role)> {
    let count = seen.typed_names.len();
    let names = if count == 1 {
        "1 name"
    } else {
        &format!("{count} names")
    };
    let key = seen.keys.shown(Action::NamesToConfirm).unwrap_or_default();
    let text = format!("{names} typed by others: {key} lists");
    (count > 0).then(|| ("to confirm", cut(&text, room), Role::Value))
}

/// Who waits without an appointment, those first who have waited too long; no row when nobody does.
fn not_collected(seen: Seen<'_>, room: usize) -> Option<(&'static str, String, Role)> {
    let late = seen.waiting.iter().filter(|w| w.uncollected);
    let others = seen.waiting.iter().filter(|w| !w.uncollected);
    let is_late = seen.waiting.iter().any(|w| w.uncollected);
    let all: Vec<String> = late
        .chain(others)
        .map(|w| format!("{} {}", w.wearer, w.words()))
        .collect();
    let role = if is_late { Role::Warning } else { Role::Value };
    let label = if is_late { "not collected" } else { "waiting" };
    (!all.is_empty()).then(|| (label, cut(&all.join("; "), room), role))
}
