//! Looking after the wearers' data: what is due for review, erasing, giving access.

use std::io::{BufRead, IsTerminal, Write};
use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use clap::{Args, ValueEnum};
use serde_json::{Map, Value, json};

use super::Place;
use super::look::whole;
use super::output::{Outcome, Output, fail};
use crate::desk::{Access, Desk, DeskError, Erased, Erasure, ErrorKind};
use crate::job::retention::Retention as Rule;
use crate::text::{json_safe, printable};

#[derive(Debug, Args)]
pub(crate) struct Retention {
    /// What is due on that day (2026-12-03) [default: today]
    #[arg(long, value_name = "DATE")]
    on: Option<NaiveDate>,
    /// What was erased instead: when, by whom, which number, why
    #[arg(long, conflicts_with_all = ["on", "adult_years", "child_until_age"])]
    erased: bool,
    /// Set the rule: years after last seen
    #[arg(long, value_name = "YEARS", requires = "by")]
    adult_years: Option<u16>,
    /// Set the rule: whoever was last seen under 18, at least until this birthday
    #[arg(long, value_name = "AGE", requires = "by")]
    child_until_age: Option<u16>,
    /// Who sets the rule
    #[arg(long = "as", value_name = "STAFF")]
    by: Option<String>,
}

#[derive(Debug, Args)]
pub(crate) struct Erase {
    #[arg(required_unless_present = "sweep")]
    number: Option<String>,
    /// Every job of the same wearer: same name, same date of birth
    #[arg(long)]
    wearer: bool,
    /// Who erases: a dispensing optician or optometrist
    #[arg(long = "as", value_name = "STAFF", required_unless_present = "sweep")]
    by: Option<String>,
    /// Why; it stays in history, so no name belongs in it
    #[arg(long, value_name = "TEXT", required_unless_present = "sweep")]
    reason: Option<String>,
    /// The number again, in place of typing it when asked
    #[arg(long, value_name = "NUMBER")]
    confirm: Option<String>,
    /// Only rewrite the file without what was erased before, when another terminal was in the way
    #[arg(long, conflicts_with_all = ["number", "wearer", "by", "reason", "confirm"])]
    sweep: bool,
}

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

const NOT_SWEPT: &str = "What was erased may still lie in the book's file or log, because another terminal was reading \
    or the program ended too soon. Close the other terminals, then: rimbook erase --sweep";

/// Says what is due for review, or sets the rule.
pub(crate) fn retention(
    place: &Place,
    out: &mut Output,
    what: &Retention,
) -> Result<Outcome, DeskError> {
    let mut desk = place.open()?;
    if what.erased {
        return erasures(&desk, out);
    }
    if desk.sweep_is_due()? {
        Output::aside(NOT_SWEPT);
    }
    let mut rule = desk.retention()?;
    if what.adult_years.is_some() || what.child_until_age.is_some() {
        rule = Rule {
            adult_years: what.adult_years.unwrap_or(rule.adult_years),
            child_until_age: what.child_until_age.unwrap_or(rule.child_until_age),
        };
        let by = what.by.as_deref().unwrap_or_default();
        place.sign_in(&mut desk, by)?;
        desk.set_retention(rule, by)?;
    }
    let on = what.on.unwrap_or(desk.today());
    let due = desk.due_for_review(on)?;
    if out.json {
        out.value(&json!({"rule": rule, "on": on, "due": due}));
        return Ok(Outcome::Done);
    }
    for review in &due {
        let born = review
            .born
            .map_or_else(String::new, |b| format!(", born {b}"));
        let seen = if review.seen_by_entry {
            "last entry"
        } else {
            "last seen"
        };
        out.line(&format!(
            "{}  {}{born}, {seen} {}, due since {}: {}",
            review.numbers.join(" "),
            review.wearer,
            review.last_seen,
            review.due_on,
            review.why
        ));
    }
    Output::aside(&format!(
        "{} due for review on {on} ({} years after last seen, children until age {}). Nothing is erased by itself; \
         confirm the rule against the guidance and law in force where the practice works.",
        due.len(),
        rule.adult_years,
        rule.child_until_age
    ));
    Ok(Outcome::Done)
}

/// Says what was erased, by whom and why.
fn erasures(desk: &Desk, out: &mut Output) -> Result<Outcome, DeskError> {
    let events = desk.erasures()?;
    if out.json {
        out.value(&events);
        return Ok(Outcome::Done);
    }
    for event in &events {
        out.line(&format!(
            "{}  job {}, by {}: {}",
            event.at,
            event.detail["number"].as_str().unwrap_or("without number"),
            event.by.as_deref().unwrap_or("nobody"),
            event.detail["reason"].as_str().unwrap_or_default()
        ));
    }
    Ok(Outcome::Done)
}

/// Erases a job, or every job of its wearer.
pub(crate) fn erase(place: &Place, out: &mut Output, what: &Erase) -> Result<Outcome, DeskError> {
    let mut desk = place.open()?;
    if what.sweep {
        return sweep(&desk, out);
    }
    let number = what.number.as_deref().unwrap_or_default();
    let numbers = desk.would_erase(number, what.wearer)?;
    let confirm = match &what.confirm {
        Some(confirm) => confirm.clone(),
        None => asked_again(number, &numbers)?,
    };
    let by = what.by.as_deref().unwrap_or_default();
    place.sign_in(&mut desk, by)?;
    let erased = desk.erase(
        Erasure {
            number,
            whole_wearer: what.wearer,
            confirm: &confirm,
            reason: what.reason.as_deref().unwrap_or_default(),
        },
        by,
    )?;
    say_erased(out, &erased);
    Ok(Outcome::Done)
}

fn sweep(desk: &Desk, out: &mut Output) -> Result<Outcome, DeskError> {
    if !desk.sweep()? {
        return Err(fail(
            ErrorKind::Busy,
            "another terminal reads or writes the book just now; the file was not rewritten",
            &["close the other terminals and try again"],
        ));
    }
    if out.json {
        out.value(&json!({"ok": true}));
    } else {
        out.line("the file is rewritten without what was erased");
    }
    Ok(Outcome::Done)
}

/// Has the number typed again on the terminal.
fn asked_again(number: &str, numbers: &[String]) -> Result<String, DeskError> {
    let stdin = std::io::stdin();
    if !stdin.is_terminal() {
        return Err(fail(
            ErrorKind::Usage,
            "erasing needs the number typed again; nothing was erased",
            &["--confirm NUMBER gives it where there is no terminal"],
        ));
    }
    Output::aside(&format!(
        "This erases job {} for good, with its acceptances, drafts and the contents of its history. \
         The reason you gave stays in history. To go on, type {number} again:",
        numbers.join(", ")
    ));
    std::io::stderr().flush().unwrap_or_default();
    let mut line = String::new();
    stdin.lock().read_line(&mut line).map_err(|e| {
        fail(
            ErrorKind::Input,
            format!("the terminal could not be read: {e}"),
            &[],
        )
    })?;
    Ok(line.trim().to_owned())
}

fn say_erased(out: &mut Output, erased: &Erased) {
    if out.json {
        out.value(&json!({"ok": true, "erased": erased}));
    } else {
        out.line(&format!(
            "erased: job {}; {} entries of history, {} acceptances, {} drafts, {} sheets",
            erased.numbers.join(", "),
            erased.entries,
            erased.acceptances,
            erased.drafts,
            erased.sheets
        ));
    }
    let tell = |numbers: &[String], what: &str| {
        if !numbers.is_empty() {
            Output::aside(&format!("{what}: {}", numbers.join(", ")));
        }
    };
    tell(
        &erased.elsewhere,
        "once stood under this name; the contents of those entries were erased too",
    );
    tell(
        &erased.mentions,
        "mention the name and were left as they are: look at them",
    );
    tell(
        &erased.same_name,
        "left under the same name, with another date of birth or without one",
    );
    if !erased.swept {
        Output::aside(NOT_SWEPT);
    }
    if erased.backups.is_empty() {
        Output::aside(
            "Backups made before, copies, exports and printed sheets still hold what was erased: see to them yourself.",
        );
    } else {
        Output::aside(&format!(
            "Backups made before, copies, exports and printed sheets still hold what was erased: see to them yourself. Backups lie in: {}",
            erased.backups.join(", ")
        ));
    }
}

/// Writes one wearer's whole record.
pub(crate) fn access(
    place: &Place,
    out: &mut Output,
    what: &GiveAccess,
) -> Result<Outcome, DeskError> {
    let mut desk = place.open_as(&what.by)?;
    // First, so that nothing is told in history that could not be written.
    let mut file = new_private(&what.out)?;
    let written = desk
        .give_access(&what.name, what.born, &what.by)
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
        out.value(&json!({"ok": true, "numbers": given.numbers, "left_out": given.left_out, "file": place}));
    } else {
        out.line(&format!(
            "job {} written to {place}",
            given.numbers.join(", ")
        ));
    }
    if !given.left_out.is_empty() {
        Output::aside(&format!(
            "under the same name with another date of birth, or without one, and left out: {}",
            given.left_out.join(", ")
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

/// Everything the book holds of some jobs.
fn record(desk: &Desk, given: &Access) -> Result<Value, DeskError> {
    let mut jobs = Vec::with_capacity(given.numbers.len());
    for number in &given.numbers {
        let open = desk.load(number)?;
        let mut job = whole(desk, &open)?;
        let passed: Vec<Value> = open
            .passed
            .iter()
            .map(|p| Ok(json!({"gate": p.gate, "job": p.job.to_file()?})))
            .collect::<Result<_, DeskError>>()?;
        job.insert("passed".to_owned(), json!(passed));
        job.insert("question".to_owned(), json!(open.question));
        let drafts: Map<String, Value> = desk
            .drafts(number)?
            .into_iter()
            .map(|(field, text)| (field, text.into()))
            .collect();
        job.insert("drafts".to_owned(), Value::Object(drafts));
        jobs.push(Value::Object(job));
    }
    Ok(json!({"written_on": desk.today(), "jobs": jobs}))
}

/// Lays a record out for a person, as Markdown.
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

/// A line for each value, under the way that leads to it.
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
