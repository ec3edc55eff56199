//! `erase`: a job or a wearer, for good.

use std::io::{BufRead, IsTerminal, Write};

use clap::Args;
use serde_json::json;

use super::book_place::BookPlace;
use super::output::{Outcome, Output, fail};
use crate::book::desk::{Desk, DeskError, Erased, Erasure, ErrorKind};

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

pub(super) const NOT_SWEPT: &str = "What was erased may still lie in the book's file or log, because another terminal was reading \
    or the program ended too soon. Close the other terminals, then: rimbook erase --sweep";

/// Erases a job, or every job of its wearer.
pub(crate) fn erase(
    place: &BookPlace,
    out: &mut Output,
    what: &Erase,
) -> Result<Outcome, DeskError> {
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

/// Asks on the terminal for the number again.
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
            "Backups made before, copies, exports and printed sheets still contain what was erased: erase it there yourself.",
        );
    } else {
        Output::aside(&format!(
            "Backups made before, copies, exports and printed sheets still contain what was erased: erase it there yourself. Backups lie in: {}",
            erased.backups.join(", ")
        ));
    }
}
