//! Figures as text and as rows of a table for other programs.

use super::line::{Figure, FigureLine};
use super::page::Report;
use super::rate::Change;

/// The columns of the rows.
pub const COLUMNS: [&str; 18] = [
    "period_from",
    "period_to",
    "page",
    "group",
    "label",
    "kind",
    "count",
    "of",
    "share",
    "low_95",
    "high_95",
    "median",
    "quartile_1",
    "quartile_3",
    "percentile_90",
    "before_count",
    "before_of",
    "before_median",
];

/// Says a figure in words.
pub(crate) fn said(figure: &Figure) -> String {
    match figure {
        Figure::Count { count } => count.to_string(),
        Figure::Rate(r) if r.of == 0 && r.count == 0 => "none".to_owned(),
        Figure::Rate(r) => format!("{} of {}, {}", r.count, r.of, r.said()),
        Figure::Days(d) => match (
            d.median(),
            d.quantile(250),
            d.quantile(750),
            d.quantile(900),
        ) {
            (Some(median), Some(low), Some(high), Some(most)) => format!(
                "{}, median {median}, middle half {low} to {high}, 9 in 10 within {most}",
                d.number()
            ),
            _ => "none".to_owned(),
        },
    }
}

/// Comparison of a line's share with the one before.
pub(crate) fn change(line: &FigureLine) -> Option<Change> {
    match (&line.now, &line.before) {
        (Figure::Rate(now), Some(Figure::Rate(before))) => Some(now.against(*before)),
        _ => None,
    }
}

/// Says of which time the figures are.
pub(crate) fn heading(report: &Report) -> String {
    let running = if report.is_running {
        " The period is not over."
    } else {
        ""
    };
    format!(
        "{}, compared with {}.{running}",
        report.period.title(),
        report.before.title()
    )
}

/// Returns the figures as lines of text: one figure a line, in full.
pub fn text(report: &Report) -> Vec<String> {
    let mut out = vec![format!("Figures of {}", heading(report))];
    out.push(format!(
        "Shares with their 95 % interval (Wilson 1927); fewer than {} cases are too few to tell.",
        report.least
    ));
    for page in &report.pages {
        out.push(String::new());
        out.push(page.page.title().to_uppercase());
        let mut group = "";
        for line in &page.lines {
            if line.group != group {
                group = line.group;
                out.push(format!("  {group}"));
            }
            let mut said_line = format!("    {:<38}  {}", line.label, said(&line.now));
            if let Some(before) = &line.before {
                said_line.push_str("; before: ");
                said_line.push_str(&said(before));
            }
            if let Some(change @ (Change::More | Change::Fewer)) = change(line) {
                said_line.push_str("; ");
                said_line.push_str(change.word());
            }
            out.push(said_line);
        }
        out.push(format!("  {}", page.note));
    }
    out
}

/// Returns the figures as rows of [`COLUMNS`]; `period_to` is the last day of the period.
pub fn rows(report: &Report) -> Vec<[String; COLUMNS.len()]> {
    let mut out = Vec::new();
    for page in &report.pages {
        for line in &page.lines {
            out.push(row(report, page.page.title(), line));
        }
    }
    out
}

fn row(report: &Report, page: &str, line: &FigureLine) -> [String; COLUMNS.len()] {
    let whole = |n: Option<u64>| n.map_or_else(String::new, |n| n.to_string());
    let real = |x: Option<f64>| x.map_or_else(String::new, |x| format!("{x:.6}"));
    let (kind, count, of, rate, days) = match &line.now {
        Figure::Count { count } => ("count", *count, None, None, None),
        Figure::Rate(r) => ("rate", r.count, Some(r.of), Some(*r), None),
        Figure::Days(d) => ("days", d.number(), None, None, Some(d)),
    };
    let (before_count, before_of, before_median) = match &line.before {
        None => (None, None, None),
        Some(Figure::Count { count }) => (Some(*count), None, None),
        Some(Figure::Rate(r)) => (Some(r.count), Some(r.of), None),
        Some(Figure::Days(d)) => (Some(d.number()), None, d.median()),
    };
    let enough = rate.filter(|r| r.is_enough());
    let interval = enough.and_then(super::rate::Rate::interval);
    let quantile = |q: u64| whole(days.and_then(|d| d.quantile(q)));
    [
        report.period.from.to_string(),
        report.period.last().to_string(),
        page.to_owned(),
        line.group.to_owned(),
        line.label.clone(),
        kind.to_owned(),
        count.to_string(),
        whole(of),
        real(enough.and_then(super::rate::Rate::share)),
        real(interval.map(|i| i.0)),
        real(interval.map(|i| i.1)),
        quantile(500),
        quantile(250),
        quantile(750),
        quantile(900),
        whole(before_count),
        whole(before_of),
        whole(before_median),
    ]
}
