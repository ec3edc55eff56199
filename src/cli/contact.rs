//! `contact`: records a call, message or letter to a wearer.

use super::book_place::BookPlace;
use super::job_report::say_stage;
use super::output::{Outcome, Output};
use super::value_words::contact_by;
use crate::book::desk::DeskError;
use crate::job::{Contact, ContactBy};
use clap::Args;

#[derive(Debug, Args)]
pub(crate) struct ContactArgs {
    pub(crate) number: String,
    /// telephone, voicemail, message, e-mail, letter or in person
    #[arg(long, value_parser = contact_by, value_name = "HOW")]
    pub(crate) how: ContactBy,
    /// What was said or left
    #[arg(long, value_name = "TEXT")]
    pub(crate) told: Option<String>,
    /// The wearer was reached
    #[arg(long)]
    pub(crate) reached: bool,
    /// Who told them
    #[arg(long = "as", value_name = "STAFF")]
    pub(crate) by: String,
}

/// Records a contact: the way, the words, and whether the wearer was reached.
pub(crate) fn contact(
    place: &BookPlace,
    out: &mut Output,
    what: &ContactArgs,
) -> Result<Outcome, DeskError> {
    let contact = Contact {
        how: Some(what.how),
        told: what.told.clone(),
        reached: what.reached.then_some(true),
        ..Contact::default()
    };
    let open = place
        .open_as(&what.by)?
        .add_contact(&what.number, &what.by, contact)?;
    say_stage(out, &open, "contact recorded");
    Ok(Outcome::Done)
}
