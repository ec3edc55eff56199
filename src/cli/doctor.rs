//! `doctor`: examines the book, and repairs what needs no decision.

use std::path::Path;

use serde_json::json;

use super::book_place::{BookPlace, file_secret};
use super::output::{Outcome, Output};
use crate::book::desk::{self, DeskError, Level, Repair};

/// Returns what was kept of the history: the text of the file of that name, or the code itself.
fn kept_head(given: &str) -> String {
    // A signed head is small; anything larger is no such file.
    let is_small = std::fs::metadata(given).is_ok_and(|m| m.is_file() && m.len() < 64 * 1024);
    let text = is_small.then(|| std::fs::read_to_string(given));
    match text {
        Some(Ok(text)) => text,
        _ => given.to_owned(),
    }
}

/// Prints the newest entry of history as a code.
pub(crate) fn head(place: &BookPlace, out: &mut Output) -> Result<Outcome, DeskError> {
    let code = place.open()?.head_code()?;
    if out.json {
        out.value(&json!({"ok": true, "code": code}));
    } else {
        out.line(&code);
    }
    Ok(Outcome::Done)
}

/// Examines the book; repairs the faults that need no decision where asked to.
pub(crate) fn doctor(
    place: &BookPlace,
    out: &mut Output,
    repair: bool,
    by: Option<&str>,
    against: Option<&str>,
) -> Result<Outcome, DeskError> {
    let kept = against.map(kept_head);
    let book = place.file()?;
    let secret = file_secret(place, &[&book], by)?;
    let repair = repair.then_some(Repair { by });
    let secret = secret.as_deref().map(String::as_str);
    let doctor = desk::examine(&book, place.clock, secret, repair, kept.as_deref())?;
    let sound = doctor.is_sound();
    if out.json {
        out.value(&json!({
            "ok": sound,
            "findings": doctor.findings,
            "repaired": doctor.repaired,
            "left": doctor.not_repaired,
        }));
    } else {
        for done in &doctor.repaired {
            out.line(&format!("repaired  {done}"));
        }
        for sentence in &doctor.not_repaired {
            out.line(&format!("left      {sentence}"));
        }
        for check in &doctor.findings {
            out.line(&format!(
                "{:9} {}: {}",
                check.level.word(),
                check.id,
                check.message
            ));
            if let Some(todo) = check.todo.as_ref().filter(|_| check.level != Level::Ok) {
                out.line(&format!("          {todo}"));
            }
        }
    }
    Ok(if sound {
        Outcome::Done
    } else {
        Outcome::Faulty
    })
}

/// Writes all that can be read into a new book.
pub(crate) fn salvage(
    place: &BookPlace,
    out: &mut Output,
    into: &Path,
) -> Result<Outcome, DeskError> {
    let book = place.file()?;
    let secret = file_secret(place, &[&book], None)?;
    let done = desk::salvage(&book, secret.as_deref().map(String::as_str), into)?;
    if out.json {
        out.value(&json!({
            "ok": done.left_out.is_empty(),
            "file": into.display().to_string(),
            "jobs": done.jobs.len(),
            "left_out": done.left_out,
        }));
    } else {
        out.line(&format!(
            "{} jobs are in {}",
            done.jobs.len(),
            into.display()
        ));
        for what in &done.left_out {
            out.line(&format!("left out: {what}"));
        }
    }
    Ok(if done.left_out.is_empty() {
        Outcome::Done
    } else {
        Outcome::Faulty
    })
}
