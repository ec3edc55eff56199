//! The top line of every screen: program, screen, job, who is acting, the day.
//!
//! Where it is too long, what matters least gives way first: the program's own name, then the words
//! for which there is a mark; number and surname are the last to.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

use crate::book::desk::OpenJob;
use crate::tui::App;
use crate::tui::widgets::text::{cut, flush_end};
use crate::tui::widgets::theme::{Role, Theme};
use crate::tui::widgets::{WIDE, put};

/// Stands behind a name that nobody has proved, where the words for it have no room.
pub(super) const UNPROVEN: &str = "?";
/// Stands behind a day set for a trial, where the words for it have no room.
pub(super) const TRIAL: &str = "*";

/// Draws it.
pub(crate) fn draw(app: &App, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let job = in_front(app).map(names);
    let ends = ends(app, area.width >= WIDE);
    let width = usize::from(area.width);
    let (program, name, end) = chosen(app, job.as_ref(), &ends, width);
    let mut spans = vec![Span::raw(" ")];
    let dot = || Span::styled(" · ", theme.style(Role::Muted));
    if program {
        spans.push(Span::styled("rimbook", theme.style(Role::Title)));
        spans.push(dot());
    }
    spans.push(Span::styled(app.screen.title(), theme.style(Role::Value)));
    if let Some(name) = name {
        spans.push(dot());
        let used: usize = spans.iter().map(Span::width).sum();
        let name = cut(name, width.saturating_sub(used + 1));
        spans.push(Span::styled(name, theme.style(Role::Title)));
    }
    let used: usize = spans.iter().map(Span::width).sum();
    let room = width.saturating_sub(used);
    spans.push(Span::styled(flush_end(end, room), theme.style(Role::Muted)));
    put(frame, area, Line::from(spans));
}

/// The job that the current screen is about.
fn in_front(app: &App) -> Option<&OpenJob> {
    let state = app.states.get(app.screen)?;
    state.behaviour().named(app.seen())
}

/// Number and wearer: whole, with initials before the surname, with the surname alone.
fn names(open: &OpenJob) -> [String; 3] {
    let number = &open.number;
    let name = open.job.wearer.name.as_deref().unwrap_or("");
    let mut words: Vec<&str> = name.split_whitespace().collect();
    let surname = words.pop().unwrap_or_default();
    let initials: String = words
        .iter()
        .filter_map(|word| word.chars().next())
        .flat_map(|letter| [letter, '.', ' '])
        .collect();
    [
        format!("{number} {name}"),
        format!("{number} {initials}{surname}"),
        format!("{number} {surname}"),
    ]
}

/// Who is acting and the day, from the longest to nothing.
fn ends(app: &App, wide: bool) -> Vec<String> {
    let who = cut(app.person.as_deref().unwrap_or("nobody signed in"), 20);
    // A name that nobody has proved is said to be just that.
    let (said, mark) = match (app.proven || app.person.is_none(), wide) {
        (true, _) => ("", ""),
        (false, true) => (", not signed in", UNPROVEN),
        (false, false) => (", unproven", UNPROVEN),
    };
    let is_long = wide || said.is_empty();
    let long = app
        .today
        .format(if is_long { "%a %-d %b %Y" } else { "%-d %b %Y" });
    let short = app.today.format("%-d %b %Y");
    let shortest = app.today.format("%-d %b");
    let (trial, star) = if app.today_is_fixed {
        (" (trial day)", TRIAL)
    } else {
        ("", "")
    };
    vec![
        format!("{who}{said} · {long}{trial} "),
        format!("{who}{said} · {short}{star} "),
        format!("{who}{mark} · {short}{star} "),
        format!("{who}{mark} · {shortest}{star} "),
        format!("{who}{mark} "),
        String::new(),
    ]
}

/// What is shown: whether the program's name is, which form of the wearer, which of the ends. The
/// first that fits whole.
fn chosen<'a>(
    app: &App,
    job: Option<&'a [String; 3]>,
    ends: &'a [String],
    width: usize,
) -> (bool, Option<&'a str>, &'a str) {
    /// With the program's name, the form of the wearer's name, the end.
    const ORDER: [(bool, usize, usize); 11] = [
        (true, 0, 0),
        (false, 0, 0),
        (false, 0, 1),
        (false, 0, 2),
        (false, 0, 3),
        (false, 0, 4),
        (false, 1, 3),
        (false, 1, 4),
        (false, 2, 4),
        (false, 1, 5),
        (false, 2, 5),
    ];
    let of = |(program, name, end): (bool, usize, usize)| {
        let name = job.and_then(|names| names.get(name)).map(String::as_str);
        (program, name, ends.get(end).map_or("", String::as_str))
    };
    let taken = |(program, name, end): (bool, Option<&str>, &str)| {
        let program = if program { "rimbook · ".width() } else { 0 };
        let name = name.map_or(0, |name| name.width() + 3);
        let gap = 1;
        1 + program + app.screen.title().width() + name + gap + end.width()
    };
    ORDER
        .into_iter()
        .map(of)
        .find(|line| taken(*line) <= width)
        .unwrap_or_else(|| of((false, 2, 5)))
}
