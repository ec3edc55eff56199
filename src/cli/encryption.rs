//! Encrypting a book, and its recovery code.

use serde_json::json;

use super::book_place::BookPlace;
use super::output::{Outcome, Output};
use crate::book::desk::DeskError;

/// Instructions shown with a recovery code, which is shown only once.
const KEEP_IT: &str = "Write this down and keep it away from the machine: it opens the book when every passphrase is \
forgotten. It is kept nowhere and not shown again.";

/// Encrypts the book's file and prints its recovery code, which is shown only once.
pub(crate) fn encrypt(place: &BookPlace, out: &mut Output, by: &str) -> Result<Outcome, DeskError> {
    let file = place.file()?;
    let desk = place.open_as(by)?;
    let passphrase = place.new_secret(by)?;
    let code = desk.encrypt(&file, by, &passphrase)?;
    say(out, &code);
    if !out.json {
        Output::aside(
            "the book is encrypted; backups made before are not: remove them, and let each person set a passphrase",
        );
    }
    Ok(Outcome::Done)
}

/// Makes and prints a new recovery code; the earlier one no longer opens the book.
pub(crate) fn recovery_code(
    place: &BookPlace,
    out: &mut Output,
    by: &str,
) -> Result<Outcome, DeskError> {
    let file = place.file()?;
    let code = place.open_as(by)?.new_recovery_code(&file, by)?;
    say(out, &code);
    Ok(Outcome::Done)
}

fn say(out: &mut Output, code: &str) {
    if out.json {
        out.value(&json!({"ok": true, "recovery_code": code}));
    } else {
        out.line(code);
        Output::aside(KEEP_IT);
    }
}
