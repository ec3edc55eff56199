//! `rimbook calendar`: the appointments for another program's calendar.

use std::io::Write as _;

use serde_json::json;

use super::book_place::BookPlace;
use super::new_file::{new_file, not_written};
use super::output::{Outcome, Output};
use crate::book::desk::DeskError;
use crate::exchange::calendar;
use chrono::NaiveDate;
use clap::Args;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct Calendar {
    /// The first day [default: today]
    #[arg(long, value_name = "DATE")]
    from: Option<NaiveDate>,
    /// How many days
    #[arg(long, value_name = "N", default_value_t = 90, value_parser = clap::value_parser!(u32).range(1..=3660))]
    days: u32,
    /// How long an appointment takes
    #[arg(long, value_name = "N", default_value_t = 30, value_parser = clap::value_parser!(u32).range(1..=480))]
    minutes: u32,
    /// A file that does not exist yet [default: standard output]
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
}

/// Writes the appointments for collections as iCalendar (RFC 5545).
pub(super) fn calendar(
    place: &BookPlace,
    out: &mut Output,
    what: &Calendar,
) -> Result<Outcome, DeskError> {
    let mut desk = place.open()?;
    let from = what.from.unwrap_or_else(|| desk.today());
    let appointments = desk.appointments(from, what.days, what.minutes)?;
    let count = appointments.len();
    let Some(text) = calendar::write(&appointments) else {
        if out.json {
            out.value(&json!({"ok": true, "appointments": 0}));
        } else {
            Output::aside(&format!(
                "no appointment in {} days from {from} on: nothing is written, since a calendar without events is none",
                what.days
            ));
        }
        return Ok(Outcome::Done);
    };
    let Some(path) = &what.out else {
        if out.json {
            out.value(&json!({"ok": true, "appointments": count, "calendar": text}));
        } else {
            out.page(&text);
        }
        return Ok(Outcome::Done);
    };
    let mut file = new_file(path).map_err(|e| not_written(path, &e))?;
    if let Err(e) = file
        .write_all(text.as_bytes())
        .and_then(|()| file.sync_all())
    {
        drop(file);
        // Half a calendar would be taken for a complete one; the failure is reported.
        std::fs::remove_file(path).unwrap_or_default();
        return Err(not_written(path, &e));
    }
    if out.json {
        out.value(&json!({"ok": true, "appointments": count, "file": path.display().to_string()}));
    } else {
        out.line(&format!("{count} written to {}", path.display()));
    }
    Ok(Outcome::Done)
}
