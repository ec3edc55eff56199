//! Commands that write values: import, record.

use std::io::Read;
use std::path::Path;

use serde_json::json;

use super::Place;
use super::args::{Import, Record};
use super::exchange;
use super::output::{Outcome, Output, fail};
use crate::desk::{DeskError, ErrorKind};
use crate::job::read_json;

/// Reads a whole file, or standard input for `-`.
fn read(file: &Path) -> Result<String, DeskError> {
    let read = if file.as_os_str() == "-" {
        let mut bytes = Vec::new();
        std::io::stdin()
            .lock()
            .read_to_end(&mut bytes)
            .map(|_| bytes)
    } else {
        std::fs::read(file)
    };
    let bytes = read.map_err(|e| {
        fail(
            ErrorKind::File,
            format!("{} could not be read: {e}", file.display()),
            &[],
        )
    })?;
    String::from_utf8(bytes).map_err(|e| {
        let before = e.as_bytes().get(..e.utf8_error().valid_up_to());
        let line = before.map_or(1, |b| b.split(|b| *b == b'\n').count());
        fail(
            ErrorKind::File,
            format!(
                "{}: line {line}: is not UTF-8, so letters cannot be told",
                file.display(),
            ),
            &["save the file as UTF-8 and import it again"],
        )
    })
}

/// Imports job files in the order given; each is taken whole or not at all.
pub(crate) fn import(place: &Place, out: &mut Output, what: &Import) -> Result<Outcome, DeskError> {
    if what.mapping_template {
        out.page(crate::exchange::mapping::TEMPLATE);
        return Ok(Outcome::Done);
    }
    let by = what.by.as_deref();
    // To try a file begins no book.
    let mut desk = if what.dry_run {
        place.open()?
    } else {
        place.open_or_create()?
    };
    if let Some(by) = by {
        place.sign_in(&mut desk, by)?;
    }
    let mut numbers: Vec<String> = Vec::new();
    for file in &what.files {
        let imported = exchange::within_size(file)
            .and_then(|()| read(file))
            .and_then(|text| {
                let foreign = exchange::foreign(&desk, file, &text, what)?;
                if what.dry_run {
                    exchange::dry_run(&mut desk, out, file, &text, foreign)?;
                    return Ok(None);
                }
                match foreign {
                    Some(jobs) => desk.import_jobs(jobs, by),
                    None => desk.import(&text, by),
                }
                .map(Some)
                .map_err(|mut e| {
                    e.message = format!("{}: {}", file.display(), e.message);
                    e
                })
            });
        match imported {
            Ok(None) => {}
            Ok(Some(imported)) => {
                for what in &imported.ignored {
                    Output::aside(&format!("{}: {what}", file.display()));
                }
                numbers.extend(imported.numbers);
            }
            Err(mut error) => {
                // What went in before is in the book; whoever tries again must know it.
                error.hints.push(if numbers.is_empty() {
                    "nothing was imported".to_owned()
                } else {
                    format!(
                        "already imported from the files before it: {}",
                        numbers.join(", ")
                    )
                });
                return Err(error);
            }
        }
    }
    if what.dry_run {
        return Ok(Outcome::Done);
    }
    if out.json {
        out.value(&json!({ "numbers": numbers }));
    } else {
        for number in &numbers {
            out.line(number);
        }
    }
    Ok(Outcome::Done)
}

/// Merges JSON into one section.
pub(crate) fn record(place: &Place, out: &mut Output, what: &Record) -> Result<Outcome, DeskError> {
    let mut desk = place.open_as_maybe(what.by.as_deref())?;
    let text = read(&what.file)?;
    let change = read_json(&text).map_err(|e| {
        fail(
            ErrorKind::Input,
            format!("{}: {e}", what.file.display()),
            &["a section is recorded as one JSON object, such as {\"due_on\":\"2026-12-03\"}"],
        )
    })?;
    let open = desk.record(
        &what.number,
        what.section,
        &change,
        None,
        what.by.as_deref(),
    )?;
    super::moves::stands(out, &open, &format!("{} recorded", what.section));
    Ok(Outcome::Done)
}
