//! The practice's settings: its standard and the thresholds of the checks.

use super::book_place::BookPlace;
use super::output::{Outcome, Output};
use crate::book::desk::{DeskError, ErrorKind};
use crate::practice::settings;
use clap::Subcommand;

#[derive(Debug, Subcommand)]
pub(crate) enum PracticeCommand {
    /// Set one
    Set {
        /// As rimbook practice names it
        key: String,
        /// The value, or default
        #[arg(allow_negative_numbers = true)]
        value: String,
        /// A dispensing optician or optometrist
        #[arg(long = "as", value_name = "STAFF")]
        by: String,
    },
}

/// Lists the settings with their values and units, or sets one.
pub(crate) fn practice(
    place: &BookPlace,
    out: &mut Output,
    what: Option<PracticeCommand>,
) -> Result<Outcome, DeskError> {
    let only = match what {
        None => None,
        Some(PracticeCommand::Set { key, value, by }) => {
            let mut desk = place.open_as(&by)?;
            desk.set_in_practice(&key, &value, &by)
                .map_err(|error| match error.kind {
                    ErrorKind::Input => error.hint("rimbook practice lists the settings"),
                    _ => error,
                })?;
            Some(key)
        }
    };
    let mut all = settings(&place.open()?.practice()?);
    all.retain(|s| only.as_ref().is_none_or(|k| k == s.key));
    if out.json {
        out.value(&all);
        return Ok(Outcome::Done);
    }
    for s in all {
        let unit = if s.unit.is_empty() {
            String::new()
        } else {
            format!(" {}", s.unit)
        };
        let from = match (s.is_own, s.default.is_empty(), s.source.is_empty()) {
            (_, true, _) => String::new(),
            (true, ..) => format!(" (own; default {}{unit}, {})", s.default, s.source),
            (false, _, true) => " (default)".to_owned(),
            (false, ..) => format!(" (default; {})", s.source),
        };
        out.line(&format!("{}: {}{unit}{from}", s.key, s.value));
    }
    Ok(Outcome::Done)
}
