//! `access`: prints all data that the book has of one wearer, for a wearer who asks for them.

use std::io::Write;
use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use clap::{Args, ValueEnum};
use serde_json::{Map, Value, json};

use super::book_place::BookPlace;
use super::job_report::whole_job;
use super::output::{Outcome, Output, fail};
use crate::book::desk::{Access, Desk, DeskError, ErrorKind};
use crate::text::{json_safe, printable};

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    Text,
    Json,
}

#[derive(Debug, Args)]
pub(crate) struct GiveAccess {
    /// The wearer's whole name, as the jobs have it
    #[arg(long, value_name = "TEXT")]
    name: String,
    /// The wearer's date of birth (1970-05-01)
    #[arg(long, value_name = "DATE")]
    born: NaiveDate,
    /// A file that does not exist yet; only its owner can read it
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// Who gives access
    #[arg(long, value_name = "STAFF")]
    by: String,
    /// text for a person, json for a program
    #[arg(long = "as", value_enum, default_value_t = Form::Text, value_name = "FORM")]
    form: Form,
}

/// Writes the jobs of one wearer with their acceptances, history and drafts, as Markdown or JSON.
pub(crate) fn access(
    place: &BookPlace,
    out: &mut Output,
    what: &GiveAccess,
) -> Result<Outcome, DeskError> {
    let mut desk = place.open_as(&what.by)?;
    // The file is made first, so that history records no access that was not given.
    let mut file = new_private(&what.out)?;
    let written = desk
        .give_access(&what.name, what.born, &what.by)
        .and_then(|given| {
            let numbers: Vec<&str> = given.numbers.iter().map(String::as_str).collect();
            desk.note_read("access given", &numbers)?;
            Ok(given)
        })
        .and_then(|given| Ok((record(&desk, &given)?, given)))
        .and_then(|(record, given)| {
            let text = match what.form {
                Form::Json => serde_json::to_string_pretty(&record).map(json_safe).ok(),
                Form::Text => Some(page(&record)),
            };
            file.write_all(text.unwrap_or_default().as_bytes())
                .and_then(|()| file.write_all(b"\n"))
                .and_then(|()| file.sync_all())
                .map_err(|e| {
                    fail(
                        ErrorKind::File,
                        format!("{} could not be written: {e}", what.out.display()),
                        &[],
                    )
                })?;
            Ok(given)
        });
    let given = match written {
        Ok(given) => given,
        Err(error) => {
            // Ours, made a moment ago; half a record helps nobody.
            std::fs::remove_file(&what.out).unwrap_or_default();
            return Err(error);
        }
    };
    let place = what.out.display().to_string();
    if out.json {
        out.value(&json!({"ok": true, "numbers": given.numbers, "left_out": given.namesakes, "file": place}));
    } else {
        out.line(&format!(
            "job {} written to {place}",
            given.numbers.join(", ")
        ));
    }
    if !given.namesakes.is_empty() {
        Output::aside(&format!(
            "under the same name with another date of birth, or without one, and left out: {}",
            given.namesakes.join(", ")
        ));
    }
    Ok(Outcome::Done)
}

fn new_private(path: &Path) -> Result<std::fs::File, DeskError> {
    let mut options = std::fs::OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options.open(path).map_err(|e| match e.kind() {
        std::io::ErrorKind::AlreadyExists => fail(
            ErrorKind::File,
            format!("{} exists already and is not replaced", path.display()),
            &["name a file that does not exist yet"],
        ),
        _ => fail(
            ErrorKind::File,
            format!("{} could not be made: {e}", path.display()),
            &[],
        ),
    })
}

/// Returns all data of some jobs as one JSON value.
fn record(desk: &Desk, given: &Access) -> Result<Value, DeskError> {
    let mut jobs = Vec::with_capacity(given.numbers.len());
    for number in &given.numbers {
        let open = desk.load(number)?;
        let mut job = whole_job(desk, &open)?;
        let passed: Vec<Value> = open
            .passed
            .iter()
            .map(|p| Ok(json!({"gate": p.gate, "job": p.job.to_file()?})))
            .collect::<Result<_, DeskError>>()?;
        job.insert("passed".to_owned(), json!(passed));
        job.insert("reads".to_owned(), json!(desk.reads_of(number)?));
        let drafts: Map<String, Value> = desk
            .every_draft(number)?
            .into_iter()
            .map(|draft| {
                // Two people may have typed into one field.
                let by = draft
                    .by
                    .map_or_else(String::new, |name| format!(" ({name})"));
                (format!("{}{by}", draft.field), draft.text.into())
            })
            .collect();
        job.insert("drafts".to_owned(), Value::Object(drafts));
        jobs.push(Value::Object(job));
    }
    Ok(json!({"written_on": desk.today(), "jobs": jobs}))
}

/// Writes a record as Markdown.
fn page(record: &Value) -> String {
    let mut out = vec![
        "# What the job book holds".to_owned(),
        String::new(),
        format!("Written on {}.", said(&record["written_on"])),
    ];
    for job in record["jobs"].as_array().into_iter().flatten() {
        out.push(String::new());
        out.push(format!(
            "## Job {}: {}",
            said(&job["number"]),
            said(&job["stage"])
        ));
        for (key, value) in job.as_object().into_iter().flatten() {
            let is_empty = value.as_object().is_some_and(Map::is_empty)
                || value.as_array().is_some_and(Vec::is_empty);
            if value.is_null() || is_empty || matches!(key.as_str(), "format" | "version") {
                continue;
            }
            if value.is_object() || value.is_array() {
                out.push(String::new());
                out.push(format!("### {}", words(key)));
                out.push(String::new());
                lines(value, "", &mut out);
            } else {
                out.push(format!("- {}: {}", words(key), said(value)));
            }
        }
    }
    out.join("\n")
}

/// Writes a line for each value, with its path.
fn lines(value: &Value, path: &str, out: &mut Vec<String>) {
    let below = |key: &str| match path {
        "" => words(key),
        path => format!("{path}, {}", words(key)),
    };
    match value {
        Value::Object(map) => {
            for (key, value) in map {
                lines(value, &below(key), out);
            }
        }
        Value::Array(list) if list.iter().any(|v| v.is_object() || v.is_array()) => {
            for (i, value) in list.iter().enumerate() {
                lines(value, &below(&(i + 1).to_string()), out);
            }
        }
        Value::Null => {}
        value => out.push(format!("- {path}: {}", said(value))),
    }
}

fn words(key: &str) -> String {
    printable(&key.replace('_', " ")).into_owned()
}

fn said(value: &Value) -> String {
    match value {
        Value::String(text) => printable(text).into_owned(),
        Value::Bool(true) => "yes".to_owned(),
        Value::Bool(false) => "no".to_owned(),
        Value::Array(list) if list.is_empty() => "none".to_owned(),
        Value::Array(list) => list.iter().map(said).collect::<Vec<_>>().join(", "),
        other => printable(&other.to_string()).into_owned(),
    }
}
