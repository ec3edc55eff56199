//! `repair`: what was done to a collected pair.

use clap::Args;

use super::book_place::BookPlace;
use super::job_report::say_stage;
use super::output::{Outcome, Output, fail};
use crate::book::desk::{DeskError, ErrorKind};
use crate::job::fields;
use crate::job::{Repair, RepairKind};

#[derive(Debug, Args)]
pub(crate) struct MendPair {
    pub(super) number: String,
    /// pads changed, sides set, front set, screw, lens loose, part replaced, checked or other
    #[arg(long, value_parser = kind, value_name = "KIND")]
    kind: RepairKind,
    /// In words
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
    // Written out, because help shows the marks that documentation puts around names.
    #[arg(
        long,
        value_name = "PATH=VALUE",
        help = "A value as it stands now, such as right.length_to_bend_mm=95; once for each value"
    )]
    set: Vec<String>,
    /// Who did it
    #[arg(long = "as", value_name = "STAFF")]
    by: String,
}

fn kind(word: &str) -> Result<RepairKind, String> {
    let words: Vec<_> = RepairKind::ALL.iter().map(|k| k.word()).collect();
    RepairKind::from_word(word).ok_or_else(|| format!("one of: {}", words.join(", ")))
}

/// Records a repair or adjustment of a collected pair.
pub(crate) fn repair(
    place: &BookPlace,
    out: &mut Output,
    what: &MendPair,
) -> Result<Outcome, DeskError> {
    let mut repair = Repair {
        kind: Some(what.kind),
        note: what.note.clone(),
        ..Repair::default()
    };
    let today = place.clock.today();
    for set in &what.set {
        let Some((path, value)) = set.split_once('=') else {
            return Err(fail(
                ErrorKind::Usage,
                format!("{set:?} says no value: write it as right.length_to_bend_mm=95"),
                &[],
            ));
        };
        repair = fields::set_repair_value(&repair, path.trim(), value, today)
            .map_err(|e| fail(ErrorKind::Input, format!("{set}: {e}"), &[]))?;
    }
    let open = place
        .open_as(&what.by)?
        .add_repair(&what.number, &what.by, repair)?;
    say_stage(out, &open, &format!("{} kept", what.kind));
    Ok(Outcome::Done)
}
