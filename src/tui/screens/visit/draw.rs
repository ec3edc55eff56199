//! The visit about a pair that came back: one page each for differences, steps, causes, outcome.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Position, Rect};
use ratatui::text::{Line, Span};

use super::page::{Page, letter};
use super::state::State;
use crate::job::{Complaint, Job, Outcome, Visit};
use crate::judge::rules::free_moves::moves_not_tried;
use crate::trade::eye::Eye;
use crate::tui::action::Action;
use crate::tui::screens::draw::Draws;
use crate::tui::seen::Seen;
use crate::tui::visit_entries::VisitEntry;
use crate::tui::widgets::text::{cut, fit, flush_end, scroll, typed, wrap};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{at, line_across, put, selected};
use crate::views::recheck::causes::Weight;
use crate::views::recheck::row::short;
use crate::views::recheck::{
    ComparedRow, Comparison, Likely, NOT_RECORDED, Parameter, STEPS, Source,
};

/// Columns of a row's name, its mark and eye included.
const NAME: usize = 22;
/// The columns of values; what a repair set is in the last where nothing was measured since.
const COLUMNS: [Source; 5] = [
    Source::Previous,
    Source::Ordered,
    Source::Read,
    Source::HandedOver,
    Source::Now,
];
/// Columns of a value.
const VALUE: usize = 8;
/// Columns of an entry's name.
const LABEL: u16 = 27;
/// Complaints side by side.
const ACROSS: usize = 3;

impl Draws for State {
    fn draw(&self, seen: Seen<'_>, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
        let (Some(open), Some(comparison)) = (seen.job, &self.comparison) else {
            return;
        };
        let job = &open.open.job;
        let [tabs, rule, page] = Layout::vertical([
            Constraint::Length(1),
            Constraint::Length(1),
            Constraint::Min(0),
        ])
        .areas(area);
        draw_tabs(self, job, comparison, theme, frame, tabs);
        line_across(frame, rule, theme);
        match self.page {
            Page::Differences => differences(self, comparison, theme, frame, page),
            Page::Steps => steps(self, job, theme, frame, page),
            Page::Causes => causes(self, job, theme, frame, page),
            Page::Outcome => outcome(self, seen, job, theme, frame, page),
        }
    }
}

fn draw_tabs(
    state: &State,
    job: &Job,
    comparison: &Comparison,
    theme: Theme,
    frame: &mut Frame<'_>,
    area: Rect,
) {
    let mut spans = vec![Span::raw(" ")];
    for page in Page::ALL {
        let is = page == state.page;
        let more = match page {
            Page::Differences => format!("{} suspected", comparison.beyond()),
            Page::Steps => {
                let tried = job.visit.tried.iter().flatten();
                let done = tried.filter(|t| STEPS.iter().any(|s| s.id == *t)).count();
                format!("{done} of {}", STEPS.len())
            }
            Page::Causes => state.causes.len().to_string(),
            Page::Outcome => job.visit.outcome.map_or("open", Outcome::word).to_owned(),
        };
        let (mark, role) = if is {
            (">", Role::Title)
        } else {
            (" ", Role::Label)
        };
        let text = format!("{mark}{}: {more}  ", page.title());
        spans.push(Span::styled(text, theme.style(role)));
    }
    put(frame, area, Line::from(spans));
}

/// Draws rows of text, each in its style, cut at the edge.
fn texts(frame: &mut Frame<'_>, area: Rect, theme: Theme, lines: Vec<(String, Role)>) {
    for (row, (text, role)) in (0..area.height).zip(lines) {
        let text = cut(&format!(" {text}"), area.width.into());
        put(frame, at(area, row), Line::styled(text, theme.style(role)));
    }
}

fn wrapped(text: &str, role: Role, area: Rect) -> Vec<(String, Role)> {
    let width = usize::from(area.width.saturating_sub(2));
    wrap(text, width).into_iter().map(|l| (l, role)).collect()
}

fn differences(
    state: &State,
    comparison: &Comparison,
    theme: Theme,
    frame: &mut Frame<'_>,
    area: Rect,
) {
    let [head, list, rule, detail] = Layout::vertical([
        Constraint::Length(1),
        Constraint::Min(3),
        Constraint::Length(1),
        Constraint::Length(5),
    ])
    .areas(area);
    let mut title = fit(" ! suspected", NAME);
    for name in ["previous", "ordered", "read", "handed", "now"] {
        title.push_str(&flush_end(name, VALUE));
    }
    title.push_str("  differs (from)");
    let title = cut(&title, head.width.into());
    put(frame, head, Line::styled(title, theme.style(Role::Label)));
    let chosen = state.row();
    let top = scroll(chosen, comparison.rows.len(), list.height.into());
    for (line, place) in (0..list.height).zip(top..comparison.rows.len()) {
        if let Some(row) = comparison.rows.get(place) {
            let line_of = row_line(row, place == chosen, theme, list.width);
            put(frame, at(list, line), line_of);
        }
    }
    line_across(frame, rule, theme);
    let mut lines = Vec::new();
    if !comparison.has_first && state.links.is_some() {
        let text =
            "The pair it follows is not in the book; what was carried over stands for the order.";
        lines.extend(wrapped(text, Role::Warning, detail));
    }
    if let Some(row) = comparison.rows.get(chosen) {
        lines.extend(about_row(row, comparison, detail));
    }
    texts(frame, detail, theme, lines);
}

fn row_line(row: &ComparedRow, is: bool, theme: Theme, width: u16) -> Line<'static> {
    let beyond = row.is_beyond();
    let eye = match row.eye {
        Some(Eye::Right) => "R",
        Some(Eye::Left) => "L",
        None => " ",
    };
    let name = format!(
        "{}{} {eye} {}",
        if is { ">" } else { " " },
        if beyond { "!" } else { " " },
        row.parameter.title()
    );
    let mut text = fit(&name, NAME);
    for source in COLUMNS {
        let value = match source {
            // One column for how the pair fits now: as measured now, else as a repair set it.
            Source::Now if is_repaired(row) => row
                .shown(Source::Repaired)
                .map(|v| format!("{} r", cut(&v, VALUE - 3))),
            _ => row.shown(source),
        };
        let value = value.unwrap_or_else(|| "-".to_owned());
        text.push(' ');
        text.push_str(&flush_end(&value, VALUE - 1));
    }
    text.push_str("  ");
    text.push_str(&differs(row));
    let role = match (beyond, row.is_compared()) {
        (true, _) => Role::Warning,
        (false, true) => Role::Value,
        (false, false) => Role::Muted,
    };
    let style = selected(theme, is, theme.style(role));
    Line::styled(fit(&text, width.into()), style)
}

/// Whether a value is as a repair set it, and was not measured since.
fn is_repaired(row: &ComparedRow) -> bool {
    row.shown(Source::Now).is_none() && row.shown(Source::Repaired).is_some()
}

/// The difference of a row that matters most, with the size from which on it is suspected.
fn differs(row: &ComparedRow) -> String {
    let Some(d) = row.worst() else {
        return String::new();
    };
    let decimals = row.parameter.decimals().min(2);
    let size = match d.size {
        None if d.beyond => return "another".to_owned(),
        None => return "the same".to_owned(),
        Some(size) if size.abs() < 1e-9 => "the same".to_owned(),
        Some(size) if row.parameter == Parameter::Power => format!("{size:.2}"),
        Some(size) => format!("{size:+.decimals$}"),
    };
    match d.limit {
        Some(limit) => format!("{size} ({})", short(limit)),
        None => size,
    }
}

fn about_row(row: &ComparedRow, comparison: &Comparison, area: Rect) -> Vec<(String, Role)> {
    let mut lines = Vec::new();
    // The suspected ones are what somebody looks for.
    let mut all: Vec<_> = row.differences.iter().collect();
    all.sort_by_key(|d| !d.beyond);
    for d in all {
        let (mark, role) = if d.beyond {
            ("! ", Role::Warning)
        } else {
            ("", Role::Value)
        };
        lines.extend(wrapped(&format!("{mark}{}.", row.says(d)), role, area));
    }
    if row.parameter == Parameter::Power
        && let Some(v) = row.eye.and_then(|e| comparison.vectors.get(e).as_ref())
    {
        let text = format!(
            "Difference: M {:+.2}, J0 {:+.2}, J45 {:+.2} D; length {:.2} D.",
            v.difference.m_d,
            v.difference.j0_d,
            v.difference.j45_d,
            v.difference.blur_d()
        );
        lines.extend(wrapped(&text, Role::Label, area));
    }
    if is_repaired(row) {
        let text = "r: as a repair set it since the handover; not measured today.";
        lines.extend(wrapped(text, Role::Muted, area));
    }
    let missing: Vec<&str> = COLUMNS
        .iter()
        .filter(|s| row.shown(**s).is_none())
        .map(|s| s.word())
        .collect();
    if row.differences.is_empty() {
        let text = format!("{}: nothing to compare.", row.name());
        lines.extend(wrapped(&text, Role::Value, area));
    }
    if let Some(note) = row.note {
        lines.extend(wrapped(&format!("{note}."), Role::Muted, area));
    }
    if !missing.is_empty() && !row.parameter.is_made() {
        let text = format!("{NOT_RECORDED}: {}.", missing.join(", "));
        lines.extend(wrapped(&text, Role::Muted, area));
    }
    lines
}

fn steps(state: &State, job: &Job, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let [list, rule, detail] = Layout::vertical([
        Constraint::Min(3),
        Constraint::Length(1),
        Constraint::Length(4),
    ])
    .areas(area);
    let chosen = state.row();
    let top = scroll(chosen, STEPS.len(), list.height.into());
    for (line, (place, step)) in (0..list.height).zip(STEPS.iter().enumerate().skip(top)) {
        let is = place == chosen;
        let done = job.visit.tried.iter().flatten().any(|t| t == step.id);
        let free = if crate::views::recheck::steps::is_free_move(step.id) {
            " (free, before any remake)"
        } else {
            ""
        };
        let text = format!(
            "{}{} {:>2} {}{free}",
            if is { ">" } else { " " },
            if done { "[x]" } else { "[ ]" },
            place + 1,
            step.title
        );
        let role = if done { Role::Good } else { Role::Value };
        let style = selected(theme, is, theme.style(role));
        put(
            frame,
            at(list, line),
            Line::styled(fit(&text, list.width.into()), style),
        );
    }
    line_across(frame, rule, theme);
    if let Some(step) = STEPS.get(chosen) {
        let mut lines = wrapped(step.how, Role::Value, detail);
        lines.extend(wrapped(
            &format!("Tells: {}.", step.tells),
            Role::Label,
            detail,
        ));
        texts(frame, detail, theme, lines);
    }
}

fn causes(state: &State, job: &Job, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let rows = Complaint::ALL.len().div_ceil(ACROSS);
    let [kinds, rule, list, below, detail] = Layout::vertical([
        Constraint::Length(u16::try_from(rows).unwrap_or(9)),
        Constraint::Length(1),
        Constraint::Min(2),
        Constraint::Length(1),
        Constraint::Length(4),
    ])
    .areas(area);
    let width = usize::from(kinds.width) / ACROSS;
    for (line, row) in (0..kinds.height).zip(0..rows) {
        let spans: Vec<Span<'_>> = (0..ACROSS)
            .filter_map(|column| Complaint::ALL.get(column * rows + row))
            .map(|kind| {
                let is = job.visit.complaints.iter().flatten().any(|k| k == kind);
                let mark = if is { "x" } else { "-" };
                let text = format!(" {} {mark} {}", letter(*kind), kind.word());
                let role = if is { Role::Title } else { Role::Label };
                Span::styled(fit(&text, width), theme.style(role))
            })
            .collect();
        put(frame, at(kinds, line), Line::from(spans));
    }
    line_across(frame, rule, theme);
    let chosen = state.row();
    if state.causes.is_empty() {
        let text = "Nothing points to a cause yet: tick what is complained of by its letter.";
        texts(frame, list, theme, wrapped(text, Role::Muted, list));
    }
    let top = scroll(chosen, state.causes.len(), list.height.into());
    for (line, place) in (0..list.height).zip(top..state.causes.len()) {
        if let Some(cause) = state.causes.get(place) {
            let line_of = cause_line(cause, place == chosen, theme, list.width);
            put(frame, at(list, line), line_of);
        }
    }
    line_across(frame, below, theme);
    if let Some(cause) = state.causes.get(chosen) {
        let mut lines = wrapped(&format!("Do: {}.", cause.row.remedy), Role::Value, detail);
        let because = format!("Because {}.", cause.because.join("; "));
        lines.extend(wrapped(&because, Role::Label, detail));
        let look = format!(
            "Look: {}. Counts as {}.",
            cause.row.check, cause.row.counts_as
        );
        lines.extend(wrapped(&look, Role::Value, detail));
        lines.extend(wrapped(cause.row.source, Role::Muted, detail));
        texts(frame, detail, theme, lines);
    }
}

fn cause_line(cause: &Likely, is: bool, theme: Theme, width: u16) -> Line<'static> {
    let (mark, word, role) = match cause.weight {
        Weight::Health => ("!!", "health", Role::Stop),
        Weight::Both => ("!", "said, seen", Role::Warning),
        Weight::Values => ("!", "seen", Role::Warning),
        Weight::Complaint => (" ", "said", Role::Value),
    };
    let text = format!(
        "{}{} {} {}",
        if is { ">" } else { " " },
        fit(mark, 2),
        fit(word, 10),
        cause.row.cause
    );
    let style = selected(theme, is, theme.style(role));
    Line::styled(fit(&text, width.into()), style)
}

fn outcome(
    state: &State,
    seen: Seen<'_>,
    job: &Job,
    theme: Theme,
    frame: &mut Frame<'_>,
    area: Rect,
) {
    let [list, rule, detail] = Layout::vertical([
        Constraint::Length(u16::try_from(VisitEntry::ALL.len()).unwrap_or(7)),
        Constraint::Length(1),
        Constraint::Min(0),
    ])
    .areas(area);
    for (line, (place, entry)) in (0..list.height).zip(VisitEntry::ALL.iter().enumerate()) {
        let is = place == state.row();
        let path = format!("visit.{}", entry.key());
        let edit = state.edit().filter(|e| e.path == path);
        let here = at(list, line);
        let name = format!("{}{}", if is { "> " } else { "  " }, entry.title());
        let mut shown = match edit {
            Some(edit) => edit.line.text().to_owned(),
            None => entry.value(job).unwrap_or_else(|| "-".to_owned()),
        };
        let room = usize::from(list.width.saturating_sub(LABEL + 1));
        if let Some(edit) = edit {
            let (text, column) = typed(&shown, edit.line.cursor_column(), room);
            shown = text;
            let x = here.x + LABEL + u16::try_from(column).unwrap_or(0);
            if !seen.is_asked {
                frame.set_cursor_position(Position::new(x, here.y));
            }
        }
        let role = if edit.is_some() {
            Role::Title
        } else {
            Role::Value
        };
        let line = Line::from(vec![
            Span::styled(
                fit(&name, LABEL.into()),
                selected(theme, is, theme.style(Role::Label)),
            ),
            Span::styled(
                fit(&shown, room),
                selected(theme, is && edit.is_none(), theme.style(role)),
            ),
        ]);
        put(frame, here, line);
    }
    line_across(frame, rule, theme);
    texts(
        frame,
        detail,
        theme,
        about_outcome(state, seen, job, detail),
    );
}

/// What comes before everything else: words that may mean a disease.
fn warning(visit: &Visit, area: Rect) -> Vec<(String, Role)> {
    let signs = visit.warning_signs();
    if signs.is_empty() {
        return Vec::new();
    }
    let signs = signs.join(", ");
    match visit.warning_told.as_deref().map(str::trim) {
        Some(who) if !who.is_empty() => {
            wrapped(&format!("{signs}: {who} was told."), Role::Label, area)
        }
        _ => {
            let text = format!(
                "!! {signs}: may mean a disease. The optometrist today, nothing is adjusted first; who was told is entered in the last row."
            );
            wrapped(&text, Role::Stop, area)
        }
    }
}

fn about_outcome(state: &State, seen: Seen<'_>, job: &Job, area: Rect) -> Vec<(String, Role)> {
    let mut lines = Vec::new();
    if let Some(why) = state.edit().and_then(|e| e.error.as_ref()) {
        lines.extend(wrapped(&format!("! {why}"), Role::Warning, area));
    }
    let v = &job.visit;
    lines.extend(warning(v, area));
    if let Some(by) = &v.decided_by {
        let on = v
            .decided_on
            .map_or_else(String::new, |d| format!(" on {d}"));
        lines.extend(wrapped(&format!("Decided by {by}{on}."), Role::Label, area));
    }
    if job.closed_as().is_some() {
        let text = "The visit is closed and off the worklist. Who pays and what was found can still be entered; an outcome of \"nothing yet\" opens it again.";
        lines.extend(wrapped(text, Role::Good, area));
    }
    let moves = moves_not_tried(v.tried.as_deref().unwrap_or_default());
    if v.outcome == Some(Outcome::Remade) {
        if moves.is_empty() {
            let text = "Everything that is free was tried on the face before.";
            lines.extend(wrapped(text, Role::Good, area));
        } else {
            let text = format!(
                "! Not tried on the face yet: {}. The gate holds the remake until they are ticked or it is accepted with a reason.",
                moves.join("; ")
            );
            lines.extend(wrapped(&text, Role::Warning, area));
        }
        let remake = state.links.as_ref().and_then(|l| l.remake.as_ref());
        let key = |a| seen.keys.shown(a).unwrap_or_default();
        let made = key(Action::Remake);
        let text = match remake {
            Some(number) => format!("Made again as {number}; {made} opens it."),
            None if v.cause.is_none() => {
                "Without a cause nobody can tell what the remake is to change: enter it first."
                    .to_owned()
            }
            None => format!("{made} begins the remake as a new job that carries the values."),
        };
        lines.extend(wrapped(&text, Role::Value, area));
    }
    if let Some(entry) = state.entry() {
        lines.extend(wrapped(hint(entry), Role::Muted, area));
    }
    if let Some(entry) = state.entry()
        && state.edit().is_none()
        && let Some(text) = entry.value(job)
        && text.len() > 40
    {
        lines.extend(wrapped(&text, Role::Value, area));
    }
    lines
}

/// What an entry is for.
const fn hint(entry: VisitEntry) -> &'static str {
    match entry {
        VisitEntry::Complaint => {
            "Type it as it is said; words that may mean a disease are looked for."
        }
        VisitEntry::WarningTold => {
            "Who judges words that may mean a disease, and was told today: a name."
        }
        VisitEntry::Found => "What was found on the face, by the readings, by the tests.",
        VisitEntry::Cause => {
            "One word, so that the practice can count; a remake must differ in it."
        }
        VisitEntry::Outcome => {
            "Who decided, and when, is filled in. Waiting keeps the visit on the worklist until its day, remade until the remake is begun; any other closes it."
        }
        VisitEntry::AtCostOf => "Who pays for what follows.",
        VisitEntry::ReviewOn => "A day, or +14 for two weeks from today.",
        VisitEntry::SameBecause => "Only for a remake that is ordered just as before: it says why.",
    }
}
