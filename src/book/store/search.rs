//! Finding jobs by what a person types: quoted into full-text phrases, never passed as syntax.

use rusqlite::{Connection, params};

use super::error::StoreError;
use super::row::{LINE, LineRow, digits, line, phone_tail, wearer_key};

/// Letters below which the names are read by their own index: ranking a short prefix is slow.
const SHORT: usize = 2;
/// Digits from which a tail of a telephone number is looked for.
const TAIL: usize = 3;
/// Digits from which the beginning of a telephone number is looked for: half a practice shares the
/// digits of its own area, and nobody is found by those.
const BEGINNING: usize = 6;

/// Returns a full-text expression that finds every word typed, the last as a beginning.
pub(crate) fn expression(text: &str) -> Option<String> {
    let words: Vec<String> = text
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .map(|w| format!("\"{w}\"*"))
        .collect();
    (!words.is_empty()).then(|| words.join(" "))
}

/// Returns the jobs that text finds, newest first: number, telephone tail, then words.
///
/// # Errors
/// [`StoreError`] of the file.
pub(crate) fn find(c: &Connection, text: &str, limit: usize) -> Result<Vec<LineRow>, StoreError> {
    let text = text.trim();
    let limit = i64::try_from(limit).unwrap_or(i64::MAX);
    let mut out: Vec<LineRow> = Vec::new();
    if text.is_empty() {
        return Ok(out);
    }
    let mut add = |rows: Vec<LineRow>| {
        for row in rows {
            if !out.iter().any(|o| o.number == row.number) {
                out.push(row);
            }
        }
    };
    add(lines(c, &by_number(), text, limit)?);
    let is_digits = text
        .chars()
        .all(|c| c.is_ascii_digit() || " +-()/".contains(c));
    let tail = phone_tail(text);
    if is_digits && tail.len() >= TAIL {
        add(lines(c, &by_phone_tail(), &tail, limit)?);
        if tail.len() >= BEGINNING {
            // However it is spaced.
            let beginning = format!("phone : \"{}\" *", digits(text));
            add(lines(c, &matching(), &beginning, limit)?);
        }
    }
    if text.chars().count() < SHORT {
        add(lines(c, &by_first_letter(), &wearer_key(text), limit)?);
    } else if let Some(wanted) = expression(text) {
        let wanted = if is_digits && tail.len() < BEGINNING {
            format!("{{number wearer born frame}} : ({wanted})")
        } else {
            wanted
        };
        add(lines(c, &matching(), &wanted, limit)?);
    }
    out.truncate(usize::try_from(limit).unwrap_or(usize::MAX));
    Ok(out)
}

/// The query of the job that has a number.
pub(super) fn by_number() -> String {
    format!("SELECT {LINE} FROM job WHERE number = ?1 LIMIT ?2")
}

/// The query of the jobs whose wearer's name begins so.
pub(super) fn by_first_letter() -> String {
    format!(
        "SELECT {LINE} FROM job WHERE wearer_key >= ?1 AND wearer_key < ?1 || char(1114111) ORDER BY wearer_key, born LIMIT ?2"
    )
}

/// The query of the jobs whose telephone number ends so; the ids are read off the index alone, so
/// that only the rows that are shown are fetched.
pub(super) fn by_phone_tail() -> String {
    format!(
        "SELECT {LINE} FROM job WHERE id IN
         (SELECT id FROM job WHERE phone_tail >= ?1 AND phone_tail < ?1 || ':' ORDER BY id DESC LIMIT ?2)
         ORDER BY id DESC"
    )
}

/// The query of the jobs that a full-text expression finds.
pub(super) fn matching() -> String {
    format!(
        "SELECT {LINE} FROM job WHERE id IN
         (SELECT rowid FROM job_search WHERE job_search MATCH ?1 ORDER BY rowid DESC LIMIT ?2)
         ORDER BY id DESC"
    )
}

fn lines(c: &Connection, sql: &str, text: &str, limit: i64) -> Result<Vec<LineRow>, StoreError> {
    let mut statement = c.prepare_cached(sql)?;
    let rows = statement.query_map(params![text, limit], line)?;
    Ok(rows.collect::<Result<_, _>>()?)
}
