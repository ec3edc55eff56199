//! `repair`: what was done to a collected pair.

use clap::Args;
use serde_json::json;

use super::book_place::BookPlace;
use super::job_report::{say_findings, say_stage};
use super::output::{Outcome, Output, fail};
use crate::book::desk::{DeskError, ErrorKind, RepairAnswer};
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
    /// Who supervised, registered and on the premises
    #[arg(long = "supervised-by", value_name = "STAFF")]
    supervised_by: Option<String>,
    /// Why it is kept although a check holds it; taken from somebody registered
    #[arg(long, value_name = "TEXT")]
    reason: Option<String>,
    /// Who did it
    #[arg(long = "as", value_name = "STAFF")]
    by: String,
}

fn kind(word: &str) -> Result<RepairKind, String> {
    let words: Vec<_> = RepairKind::ALL.iter().map(|k| k.word()).collect();
    RepairKind::from_word(word).ok_or_else(|| format!("one of: {}", words.join(", ")))
}

/// Records a repair or adjustment of a collected pair, or prints the findings that hold it.
pub(crate) fn repair(
    place: &BookPlace,
    out: &mut Output,
    what: &MendPair,
) -> Result<Outcome, DeskError> {
    let mut repair = Repair {
        kind: Some(what.kind),
        note: what.note.clone(),
        supervised_by: what.supervised_by.clone(),
        reason: what.reason.clone(),
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
    let answer = place
        .open_as(&what.by)?
        .add_repair(&what.number, &what.by, repair)?;
    say(out, what, &answer);
    Ok(match answer.kept {
        Some(_) => Outcome::Done,
        None => Outcome::Held,
    })
}

/// Prints whether a repair was kept, and what its values are held by.
fn say(out: &mut Output, what: &MendPair, answer: &RepairAnswer) {
    if out.json {
        let number = answer
            .kept
            .as_ref()
            .map_or(&what.number, |open| &open.number);
        out.value(&json!({
            "kept": answer.kept.is_some(),
            "number": number,
            "findings": answer.findings,
        }));
        return;
    }
    match &answer.kept {
        Some(open) => say_stage(out, open, &format!("{} kept", what.kind)),
        None => out.line(&format!(
            "{}: {} not kept; set it right, or somebody registered keeps it with --reason",
            what.number, what.kind
        )),
    }
    say_findings(out, &answer.findings);
}
