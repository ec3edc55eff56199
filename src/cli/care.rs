//! Commands that take care of the book's file: backup, restore, doctor.

use std::io::Read;
use std::path::{Path, PathBuf};

use serde_json::json;

use super::Place;
use super::args::Backup;
use super::output::{Outcome, Output, fail};
use crate::desk::{self, DeskError, ErrorKind, Level, PlanChange, Repair, Restore};

/// Name of the environment variable that lets a book be opened on a network drive.
const ALLOW_NETWORK: &str = "RIMBOOK_ALLOW_NETWORK_DRIVE";
/// Bytes of a secret that are read at most.
const SECRET: u64 = 1024;

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

/// Reads a secret from the first line of standard input.
fn secret(asked: bool) -> Result<Option<String>, DeskError> {
    if !asked {
        return Ok(None);
    }
    let mut text = String::new();
    std::io::stdin()
        .lock()
        .take(SECRET)
        .read_to_string(&mut text)
        .map_err(|_| {
            fail(
                ErrorKind::Input,
                "the PIN or passphrase could not be read",
                &[],
            )
        })?;
    Ok(text.lines().next().map(str::to_owned))
}

fn shown(files: &[PathBuf]) -> Vec<String> {
    files.iter().map(|f| f.display().to_string()).collect()
}

/// Makes a backup; sets where they go first if asked to.
pub(crate) fn backup(place: &Place, out: &mut Output, what: &Backup) -> Result<Outcome, DeskError> {
    let mut desk = place.open()?;
    if let (true, Some(by)) = (what.set, &what.by) {
        if let Some(secret) = secret(what.secret_stdin)? {
            desk.sign_in(by, &secret)?;
        }
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
    secret_stdin: bool,
) -> Result<Outcome, DeskError> {
    let book = place.file_to_begin()?;
    let secret = secret(secret_stdin)?;
    let what = Restore {
        file,
        book: &book,
        by,
        secret: secret.as_deref(),
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
    secret_stdin: bool,
) -> Result<Outcome, DeskError> {
    let secret = secret(secret_stdin)?;
    let repair = repair.then_some(Repair {
        by,
        secret: secret.as_deref(),
    });
    let doctor = desk::examine(&place.file()?, place.clock, repair)?;
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
