//! `record`: values of one section of a job.

use std::path::PathBuf;

use clap::Args;

use super::book_place::BookPlace;
use super::input_file::read_text;
use super::job_report::say_stage;
use super::output::{Outcome, Output, fail};
use super::value_words::section;
use crate::book::desk::{DeskError, ErrorKind};
use crate::job::{Section, read_json};

#[derive(Debug, Args)]
pub(crate) struct Record {
    pub(crate) number: String,
    /// job, wearer, prescription, fitting, frame, lenses, order, readings, handover, visit and so on
    #[arg(value_parser = section)]
    pub(crate) section: Section,
    /// A file with one JSON object; - reads standard input
    pub(crate) file: PathBuf,
    /// Who records
    #[arg(long = "as", value_name = "STAFF")]
    pub(crate) by: Option<String>,
}

/// Merges a JSON object into one section of a job (RFC 7396).
pub(crate) fn record(
    place: &BookPlace,
    out: &mut Output,
    what: &Record,
) -> Result<Outcome, DeskError> {
    let mut desk = place.open_as_maybe(what.by.as_deref())?;
    let text = read_text(&what.file)?;
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
    say_stage(out, &open, &format!("{} recorded", what.section));
    Ok(Outcome::Done)
}
