//! The tables of keys on the page on the job file (`docs/job-file.md`), made from the rows in which the
//! parts of a job are declared.

use std::fmt::Write as _;

use super::schema::PARTS;
use crate::job::FORMAT;
use crate::job::fields::{KeyRow, Shape};

fn ticked(words: &[&str]) -> String {
    let words: Vec<String> = words.iter().map(|w| format!("`{w}`")).collect();
    words.join(", ")
}

fn link(name: &str) -> String {
    format!("[{name}](#{})", name.to_lowercase())
}

/// What a key can hold, in words.
fn value(shape: Shape) -> String {
    match shape {
        Shape::Text => "text".to_owned(),
        Shape::Texts => "list of text".to_owned(),
        Shape::Flag => "true or false".to_owned(),
        Shape::Date => "date".to_owned(),
        Shape::Moment => "date and time".to_owned(),
        Shape::Power => "number, D".to_owned(),
        Shape::Length => "number, mm".to_owned(),
        Shape::Angle => "number, degrees".to_owned(),
        Shape::Prism => "number, prism dioptres".to_owned(),
        Shape::Index => "number".to_owned(),
        Shape::Percent => "number, percent".to_owned(),
        Shape::Category => "whole number, 0 to 4".to_owned(),
        Shape::Word(words) => ticked(words),
        Shape::Words(words) => format!("list of {}", ticked(words)),
        // It holds a list for each eye.
        Shape::Part("Repeats") => {
            format!("object: lists `right`, `left` of {}", link("EyeReading"))
        }
        Shape::Part(name) => format!("object: {}", link(name)),
        Shape::Parts(name) => format!("list of {}", link(name)),
        Shape::ByPath(name) => format!(
            "object: path of a value (`fitting.right.cd_mm`) to {}",
            link(name)
        ),
    }
}

fn line(out: &mut String, key: &str, value: &str, meaning: &str) {
    // Writing to a string cannot fail.
    let _ = writeln!(out, "| {key} | {value} | {} |", meaning.trim());
}

fn rows(out: &mut String, rows: &[KeyRow]) {
    let mut rows = rows.iter().peekable();
    while let Some(row) = rows.next() {
        let mut key = format!("`{}`", row.key);
        // Both eyes in one line where one sentence says both.
        if rows.peek().is_some_and(|next| next.doc == row.doc) {
            key = format!("{key}, `{}`", rows.next().map_or("", |next| next.key));
        }
        line(out, &key, &value(row.shape), row.doc);
    }
}

/// Returns the table of a part by the name that it has on the page (`Fitting`); `None` where there is
/// no such part.
pub(crate) fn table(name: &str) -> Option<String> {
    let part = if name == "The job" { "Job" } else { name };
    let (_, keys) = PARTS.into_iter().find(|(n, _)| *n == part)?;
    let mut out = "| key | value | meaning |\n|---|---|---|\n".to_owned();
    if part == "Job" {
        line(
            &mut out,
            "`format`",
            &format!("`{FORMAT}`"),
            "needed: what the file is",
        );
        line(&mut out, "`version`", "1", "needed: version of the format");
    }
    rows(&mut out, keys);
    Some(out)
}

/// Returns the page with the tables between its marks made again. A mark is
/// `<!-- keys: NAME -->`, its end `<!-- end -->`.
pub fn with_tables(page: &str) -> String {
    let mut out = String::new();
    let mut inside = false;
    for text in page.lines() {
        if text == "<!-- end -->" {
            inside = false;
        }
        if !inside {
            out.push_str(text);
            out.push('\n');
        }
        let name = text
            .strip_prefix("<!-- keys: ")
            .and_then(|rest| rest.strip_suffix(" -->"));
        if let Some(table) = name.and_then(table) {
            out.push_str(&table);
            inside = true;
        }
    }
    out
}
