//! Commands that take care of the book's file: backup, restore, doctor.

use std::path::{Path, PathBuf};

use serde_json::json;

use super::Place;
use super::args::Backup;
use super::output::{Outcome, Output, fail};
use super::secret::Secret;
use crate::desk::{self, DeskError, ErrorKind, Level, PlanChange, Repair, Restore};

/// Name of the environment variable that lets a book be opened on a network drive.
const ALLOW_NETWORK: &str = "RIMBOOK_ALLOW_NETWORK_DRIVE";

/// Refuses a book on a drive that other machines write to.
pub(crate) fn refuse_network_drive(book: &Path) -> Result<(), DeskError> {
    let allowed = std::env::var_os(ALLOW_NETWORK).is_some_and(|v| !v.is_empty());
    match desk::network_drive(book) {
        Some(kind) if !allowed => Err(fail(
            ErrorKind::File,
            format!(
                "{} lies on a network drive ({kind}): two machines writing to it would damage the book",
                book.display()
            ),
            &[
                "move the book to a drive of this machine; the backups may go to the network",
                "only one machine ever uses it: set RIMBOOK_ALLOW_NETWORK_DRIVE=1",
            ],
        )),
        _ => Ok(()),
    }
}

/// Returns the secret of whoever asks, where the book or the backup wants one.
fn secret(place: &Place, files: &[&Path], by: Option<&str>) -> Result<Option<Secret>, DeskError> {
    let is_sealed = files.iter().any(|f| desk::is_encrypted(f));
    let signs_in = || {
        by.is_some()
            && files
                .first()
                .and_then(|book| desk::Desk::open(book, place.clock).ok())
                .and_then(|desk| desk.security().ok())
                .is_some_and(|s| s.sign_in)
    };
    if place.pin_file.is_some() || is_sealed || signs_in() {
        let whose = by.map_or_else(String::new, |by| format!(" of {by}"));
        return place
            .secret(&format!("PIN or passphrase{whose}: "))
            .map(Some);
    }
    Ok(None)
}

fn shown(files: &[PathBuf]) -> Vec<String> {
    files.iter().map(|f| f.display().to_string()).collect()
}

/// Makes a backup; sets where they go first if asked to.
pub(crate) fn backup(place: &Place, out: &mut Output, what: &Backup) -> Result<Outcome, DeskError> {
    let mut desk = place.open()?;
    if let (true, Some(by)) = (what.set, &what.by) {
        place.sign_in(&mut desk, by)?;
        let change = PlanChange {
            dir: what.dir.clone(),
            keep_last: what.keep,
            keep_days: what.keep_days,
            keep_weeks: what.keep_weeks,
            keep_months: what.keep_months,
            on_start: what.on_start,
            on_quit: what.on_quit,
        };
        desk.set_backup_plan(&change, by)?;
    }
    let made = desk.back_up(what.dir.as_deref())?;
    let plan = desk.backup_plan()?;
    if out.json {
        out.value(&json!({
            "ok": true,
            "file": made.copied.file.display().to_string(),
            "bytes": made.copied.bytes,
            "head": made.copied.head,
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

/// Puts a backup in the place of the book.
pub(crate) fn restore(
    place: &Place,
    out: &mut Output,
    file: &Path,
    by: &str,
) -> Result<Outcome, DeskError> {
    let book = place.file_to_begin()?;
    let secret = secret(place, &[&book, file], Some(by))?;
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

/// Examines the book, and repairs what can be.
pub(crate) fn doctor(
    place: &Place,
    out: &mut Output,
    repair: bool,
    by: Option<&str>,
) -> Result<Outcome, DeskError> {
    let book = place.file()?;
    let secret = secret(place, &[&book], by)?;
    let repair = repair.then_some(Repair { by });
    let secret = secret.as_deref().map(String::as_str);
    let doctor = desk::examine(&book, place.clock, secret, repair)?;
    let sound = doctor.is_sound();
    if out.json {
        out.value(&json!({
            "ok": sound,
            "findings": doctor.findings,
            "repaired": doctor.repaired,
        }));
    } else {
        for done in &doctor.repaired {
            out.line(&format!("repaired  {done}"));
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
