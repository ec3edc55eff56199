//! `confirm`: signs the names of a person that somebody else typed.

use clap::Args;

use super::book_place::BookPlace;
use super::job_report::say_stage;
use super::output::{Outcome, Output};
use crate::book::desk::DeskError;

#[derive(Debug, Args)]
pub(crate) struct ConfirmArgs {
    pub(super) number: String,
    /// Paths of the names, such as `fitting.taken_by`; without any, all that wait for the person
    #[arg(value_name = "PATH")]
    paths: Vec<String>,
    /// Who confirms
    #[arg(long = "as", value_name = "STAFF")]
    by: String,
}

/// Signs names of a job that somebody else typed.
pub(crate) fn confirm(
    place: &BookPlace,
    out: &mut Output,
    what: &ConfirmArgs,
) -> Result<Outcome, DeskError> {
    let mut desk = place.open_as(&what.by)?;
    let open = desk.confirm(&what.number, &what.paths, &what.by)?;
    say_stage(out, &open, &format!("confirmed by {}", what.by));
    Ok(Outcome::Done)
}
