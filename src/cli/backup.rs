//! `backup` and `restore`: copies of the book's file.

use std::path::{Path, PathBuf};

use clap::Args;
use serde_json::json;

use super::book_place::{BookPlace, file_secret};
use super::output::{Outcome, Output};
use crate::book::desk::{self, DeskError, PlanChange, Restore};

#[derive(Debug, Args)]
pub(crate) struct Backup {
    /// The directory [default: the one that is set]
    #[arg(value_name = "DIR")]
    dir: Option<PathBuf>,
    /// Remember directory and numbers from now on; without DIR, sets the numbers alone
    #[arg(long, requires = "by")]
    set: bool,
    /// Who does it; to set, a dispensing optician or optometrist
    #[arg(long = "as", value_name = "STAFF")]
    by: Option<String>,
    /// Keep the newest N
    #[arg(long, value_name = "N", requires = "set")]
    keep: Option<usize>,
    /// Keep the newest of each of N days
    #[arg(long, value_name = "N", requires = "set")]
    keep_days: Option<usize>,
    /// Keep the newest of each of N weeks
    #[arg(long, value_name = "N", requires = "set")]
    keep_weeks: Option<usize>,
    /// Keep the newest of each of N months
    #[arg(long, value_name = "N", requires = "set")]
    keep_months: Option<usize>,
    /// Whether the first start of a day makes one
    #[arg(long, value_name = "true|false", requires = "set")]
    on_start: Option<bool>,
    /// Whether leaving the screens after changes makes one
    #[arg(long, value_name = "true|false", requires = "set")]
    on_quit: Option<bool>,
}

fn shown(files: &[PathBuf]) -> Vec<String> {
    files.iter().map(|f| f.display().to_string()).collect()
}

/// Makes a backup; sets the directory of backups before that where the options say so.
pub(crate) fn backup(
    place: &BookPlace,
    out: &mut Output,
    what: &Backup,
) -> Result<Outcome, DeskError> {
    let mut desk = place.open()?;
    if let Some(by) = &what.by {
        place.sign_in(&mut desk, by)?;
    }
    let made = if let (true, Some(by)) = (what.set, &what.by) {
        let change = PlanChange {
            dir: what.dir.clone(),
            keep_last: what.keep,
            keep_days: what.keep_days,
            keep_weeks: what.keep_weeks,
            keep_months: what.keep_months,
            on_start: what.on_start,
            on_quit: what.on_quit,
        };
        desk.back_up_by(&change, by)?
    } else {
        desk.back_up(what.dir.as_deref())?
    };
    let plan = desk.backup_plan()?;
    if out.json {
        out.value(&json!({
            "ok": true,
            "file": made.copied.file.display().to_string(),
            "bytes": made.copied.bytes,
            "head": made.copied.head,
            "code": made.copied.code,
            "removed": shown(&made.removed),
            "notes": made.notes,
            "plan": plan,
        }));
        return Ok(Outcome::Done);
    }
    out.line(&format!(
        "{}: checked and whole, {} entries of history",
        made.copied.file.display(),
        made.copied.head.id
    ));
    out.line(&format!(
        "history ends with {}: written down, it shows later that nothing before it was rewritten",
        made.copied.code
    ));
    for gone in &made.removed {
        out.line(&format!("removed {}", gone.display()));
    }
    for note in &made.notes {
        Output::aside(&format!("note: {note}"));
    }
    if plan.dir.is_none() {
        Output::aside("no directory is set yet: backup --set DIR --as NAME has one made every day");
    }
    Ok(Outcome::Done)
}

/// Replaces the book by a backup.
pub(crate) fn restore(
    place: &BookPlace,
    out: &mut Output,
    file: &Path,
    by: &str,
) -> Result<Outcome, DeskError> {
    let book = place.file_to_begin()?;
    let secret = file_secret(place, &[&book, file], Some(by))?;
    let what = Restore {
        file,
        book: &book,
        by,
        secret: secret.as_deref().map(String::as_str),
    };
    let restored = desk::restore(what, place.clock)?;
    if out.json {
        out.value(&json!({
            "ok": true,
            "book": book.display().to_string(),
            "kept": restored.kept.as_ref().map(|k| k.display().to_string()),
            "head": restored.head,
            "was_alone": restored.was_alone,
        }));
        return Ok(Outcome::Done);
    }
    out.line(&format!(
        "{} is the backup now, with {} entries of history",
        book.display(),
        restored.head.id
    ));
    if let Some(kept) = &restored.kept {
        out.line(&format!("the replaced book is kept: {}", kept.display()));
    }
    if !restored.was_alone {
        Output::aside(
            "the replaced file was too damaged to tell whether it is open elsewhere: leave rimbook on every other terminal now",
        );
    }
    Ok(Outcome::Done)
}
